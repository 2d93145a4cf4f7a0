#pragma once

#include <optional>

#include <termios.h>

namespace loftbeat::app {

// The computer's keyboard while one practises: key by key where it is a terminal, without showing
// what is pressed; else as it comes (a pipe, say). The terminal is put back when this ends.
class ListenKeys {
 public:
  ListenKeys();
  ~ListenKeys();
  ListenKeys(const ListenKeys&) = delete;
  ListenKeys& operator=(const ListenKeys&) = delete;

  [[nodiscard]] bool is_terminal() const { return saved_.has_value(); }
  // The next key that was pressed, if any; never waits. Enter is '\n'.
  [[nodiscard]] std::optional<char> pressed();

 private:
  std::optional<termios> saved_;
  bool open_ = true;  // false: at its end, and says nothing any more
};

}  // namespace loftbeat::app
