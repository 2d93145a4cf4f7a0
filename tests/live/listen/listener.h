#pragma once

#include <string>
#include <vector>

#include <sys/types.h>

#include "take/take.h"

namespace loftbeat::live {

// The program, listening, with its computer keyboard in our hand.
class Listener {
 public:
  // Runs `loftbeat listen` with these arguments; practices go to `sessions`. `most_file_bytes`: how
  // large any file of it may grow, after which the system refuses as a full disk does; 0: no limit.
  Listener(const std::string& sessions, std::vector<std::string> arguments,
           std::size_t most_file_bytes = 0);
  // Any command of the program, with all its arguments; what it says is kept beside `scratch`.
  struct Command {
    std::vector<std::string> words;
  };
  Listener(const std::string& scratch, const Command& command);
  ~Listener();
  Listener(const Listener&) = delete;
  Listener& operator=(const Listener&) = delete;

  // Waits until it has said so, so many times; false after forty seconds.
  [[nodiscard]] bool says(const std::string& words, int times = 1) const;
  [[nodiscard]] std::string output() const;
  void press(char key) const;
  void interrupt() const;
  void kill();
  // Waits for its end; -1 if it crashed.
  [[nodiscard]] int ended();

 private:
  void run(std::vector<std::string> words, std::size_t most_file_bytes);
  std::string out_;
  pid_t child_ = -1;
  int keyboard_ = -1;
};

// An empty folder of this process's own.
[[nodiscard]] std::string fresh_sessions(const std::string& name);
[[nodiscard]] std::string demo_plan();
// The events of all takes below `sessions`.
[[nodiscard]] std::vector<take::Event> kept_events(const std::string& sessions);

}  // namespace loftbeat::live
