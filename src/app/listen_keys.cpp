#include "app/listen_keys.h"

#include <poll.h>
#include <unistd.h>

namespace loftbeat::app {

ListenKeys::ListenKeys() {
  termios state{};
  if (isatty(STDIN_FILENO) == 0 || tcgetattr(STDIN_FILENO, &state) != 0) return;
  saved_ = state;
  state.c_lflag &= ~static_cast<tcflag_t>(ICANON | ECHO);
  tcsetattr(STDIN_FILENO, TCSANOW, &state);
}

ListenKeys::~ListenKeys() {
  if (saved_) tcsetattr(STDIN_FILENO, TCSANOW, &*saved_);
}

std::optional<char> ListenKeys::pressed() {
  pollfd keyboard{STDIN_FILENO, POLLIN, 0};
  if (!open_ || ::poll(&keyboard, 1, 0) <= 0) return std::nullopt;
  char key = 0;
  open_ = ::read(STDIN_FILENO, &key, 1) > 0;
  if (!open_) return std::nullopt;
  return key == '\r' ? '\n' : key;
}

}  // namespace loftbeat::app
