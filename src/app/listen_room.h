#pragma once

#include <functional>
#include <memory>
#include <optional>
#include <string>

#include "app/listen_face.h"
#include "app/listen_practice.h"

namespace loftbeat::app {

// Everything that one practice of a plan after another uses, opened: the plan with all that is told
// of it, the inputs (or a take), what sounds, the stops, the people who sing. Practices run in one
// thread at a time, and this is opened and ended in that same thread.
class ListenRoom {
 public:
  using Say = std::function<void(const std::string& sentence)>;
  // Reads, loads the ranks and opens the devices: some seconds. `say`: warnings and what device it
  // is. `click`: what clicks, where the order does not say. Errors: what readers and devices say; a
  // device that is missing is none where only the count-in would sound.
  [[nodiscard]] static Result<std::unique_ptr<ListenRoom>> open(ListenOrder order,
                                                                live::ClickMode click,
                                                                const Say& say);

  [[nodiscard]] const ListenOrder& order() const { return order_; }
  [[nodiscard]] const ListenWork& work() const { return *work_; }
  [[nodiscard]] const ListenSource& source() const { return *source_; }
  // Null without an organ. Its own functions may be called in any thread.
  [[nodiscard]] ListenStops* stops() { return stops_ ? &*stops_ : nullptr; }
  // Null if nothing sounds.
  [[nodiscard]] ListenSound* sound() { return sound_.get(); }
  // For one practice after another, as they are shown on `face`, which must outlive them.
  [[nodiscard]] ListenPlace place(ListenFace& face);

 private:
  ListenRoom() = default;
  Status open_sound(const Say& say);

  ListenOrder order_;
  live::ClickMode click_ = live::ClickMode::off;
  std::unique_ptr<ListenWork> work_;
  std::optional<ListenSource> source_;
  std::optional<ListenSingers> singers_;
  std::unique_ptr<ListenSound> sound_;
  std::optional<ListenStops> stops_;
};

// Takes that a crash left without an end are ended, and that is said. No practice may run on this
// folder meanwhile.
void recover_unfinished(const std::string& sessions, const ListenRoom::Say& say);

}  // namespace loftbeat::app
