#include "practice/line_catcher.h"

#include <utility>

namespace loftbeat::practice {

void LineCatcher::add(take::Event event) {
  struck_ = struck_ || event.kind == take::EventKind::note_on;
  if (!struck_) return;  // nothing is played yet
  take_.events.push_back(std::move(event));
}

std::optional<take::Take> LineCatcher::paused(Instant now) {
  if (!struck_ || now - take_.events.back().at < kPause) return std::nullopt;
  return taken();
}

std::optional<take::Take> LineCatcher::taken() {
  if (!struck_) return std::nullopt;
  struck_ = false;
  return std::exchange(take_, {});
}

}  // namespace loftbeat::practice
