#pragma once

#include <optional>

#include "take/take.h"

namespace loftbeat::practice {

// Gathers what is played until it pauses: a line by which a tune is to be named.
class LineCatcher {
 public:
  // So long after the last message nothing more belongs to the line, held chord or not.
  static constexpr Nanoseconds kPause{1'800'000'000};

  // Events in the order of time.
  void add(take::Event event);
  // `now` on the same clock. What was played, once it has paused and if any key went down; then
  // begins anew.
  [[nodiscard]] std::optional<take::Take> paused(Instant now);
  // The line as it is, without waiting for the pause.
  [[nodiscard]] std::optional<take::Take> taken();

 private:
  take::Take take_;
  bool struck_ = false;
};

}  // namespace loftbeat::practice
