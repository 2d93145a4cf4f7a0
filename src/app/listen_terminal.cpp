#include "app/listen_terminal.h"

namespace loftbeat::app {

void ListenTerminal::tell_join(const std::string& verdict) {
  // As fast as can be, nobody reads along.
  if (order_.replay_path.empty() || order_.replay_times > 0) screen_.say(verdict);
}

void ListenTerminal::show(const ListenSight& sight) {
  if (sight.waiting && !sight.now.begun) return;  // the greeting stands there
  screen_.show(sight.counting.empty() ? place_words(work_, sight.now, order_.shown)
                                      : sight.counting);
}

std::optional<ListenWish> ListenTerminal::wish() {
  while (const auto key = keys_.pressed()) {
    if (*key == '\n') return ListenWish{ListenWish::What::begin_or_end, 0};
    if (stops_ == nullptr || order_.stops_by != ListenOrder::StopsBy::computer_keys) continue;
    if (*key == ' ') return ListenWish{ListenWish::What::next_registration, 0};
    if (const auto stop = stops_->stop_of(*key)) return ListenWish{ListenWish::What::stop, *stop};
  }
  return std::nullopt;
}

}  // namespace loftbeat::app
