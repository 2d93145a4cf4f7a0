#pragma once

#include <chrono>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>

#include "live/live_view.h"

namespace loftbeat::app {

// What there is to see of a practice at one moment.
struct ListenSight {
  bool waiting = false;  // to be asked to count in, or for the player just to begin
  std::string counting;  // "1 2 3" while the player is counted in; else empty
  live::NowPlaying now;
  std::uint64_t messages = 0;  // that the inputs have handed over since they were opened
};

// What the player asks for while he practises.
struct ListenWish {
  enum class What {
    begin_or_end,       // counts in; when he plays already: ends
    next_registration,  // what is planned for the next pass
    stop,               // draws one stop or pushes it in
    leave               // ends, and nothing follows
  } what = What::begin_or_end;
  std::size_t stop = 0;  // index into Organ::stops
};

// Where a practice shows itself and whence the player's wishes come: a terminal, a window. All
// calls come from the thread that practises, and none may wait.
class ListenFace {
 public:
  ListenFace() = default;
  virtual ~ListenFace() = default;
  ListenFace(const ListenFace&) = delete;
  ListenFace& operator=(const ListenFace&) = delete;

  virtual void say(const std::string& sentence) = 0;       // stays to be read
  virtual void tell_join(const std::string& verdict) = 0;  // so does this
  // What is drawn, after a wish moved it.
  virtual void tell_drawn(const std::string& words) = 0;
  // Takes the place of the sight before.
  virtual void show(const ListenSight& sight) = 0;
  [[nodiscard]] virtual std::chrono::milliseconds show_every() const {
    return std::chrono::milliseconds(50);
  }
  virtual void show_nothing() = 0;
  // The next one, if any.
  [[nodiscard]] virtual std::optional<ListenWish> wish() = 0;
};

}  // namespace loftbeat::app
