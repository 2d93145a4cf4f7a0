#pragma once

#include "app/listen_command.h"
#include "app/listen_face.h"
#include "app/listen_keys.h"
#include "app/listen_screen.h"
#include "app/listen_stops.h"

namespace loftbeat::app {

// A practice at a terminal: Enter begins and ends it, and where the computer's keys move the stops,
// Space draws what is planned next and letters move single ones.
class ListenTerminal : public ListenFace {
 public:
  // All must outlive this; `stops`: null without an organ.
  ListenTerminal(const ListenOrder& order, const ListenWork& work, ListenScreen& screen,
                 const ListenStops* stops)
      : order_(order), work_(work), screen_(screen), stops_(stops) {}

  void say(const std::string& sentence) override { screen_.say(sentence); }
  void tell_join(const std::string& verdict) override;
  void tell_drawn(const std::string& words) override { screen_.say("Drawn: " + words + "."); }
  void show(const ListenSight& sight) override;
  void show_nothing() override { screen_.show(""); }
  [[nodiscard]] std::optional<ListenWish> wish() override;

 private:
  const ListenOrder& order_;
  const ListenWork& work_;
  ListenScreen& screen_;
  const ListenStops* stops_;
  ListenKeys keys_;
};

}  // namespace loftbeat::app
