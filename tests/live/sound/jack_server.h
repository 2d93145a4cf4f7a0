#pragma once

#include <string>

#include <sys/types.h>

namespace loftbeat::voice {

// A sound server of this process's own, on a device that only keeps time: `jackd -d dummy`, named
// so that it meets no other. Every library that looks for a server in this process finds this one.
class JackServer {
 public:
  JackServer();
  ~JackServer();
  JackServer(const JackServer&) = delete;
  JackServer& operator=(const JackServer&) = delete;
  // Empty if it runs; else why it does not.
  [[nodiscard]] const std::string& trouble() const { return trouble_; }
  [[nodiscard]] const std::string& name() const { return name_; }

 private:
  std::string name_;
  std::string trouble_;
  pid_t process_ = -1;
};

}  // namespace loftbeat::voice
