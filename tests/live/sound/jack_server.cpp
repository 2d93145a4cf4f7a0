#include "jack_server.h"

#include <array>
#include <chrono>
#include <csignal>
#include <cstdlib>
#include <thread>

#include <fcntl.h>
#include <jack/jack.h>
#include <sys/wait.h>
#include <unistd.h>

namespace loftbeat::voice {
namespace {

void quiet(const char* /*text*/) {}

// In the child: becomes the server, or ends.
void become_server(const std::string& name) {
  const int nowhere = open("/dev/null", O_RDWR);
  for (const int stream : {STDIN_FILENO, STDOUT_FILENO, STDERR_FILENO}) dup2(nowhere, stream);
  execlp("jackd", "jackd", "-n", name.c_str(), "-S", "--no-realtime", "-d", "dummy", "-r", "48000",
         "-p", "128", static_cast<char*>(nullptr));
  _exit(127);
}

bool answers(const std::string& name) {
  jack_status_t status{};
  jack_client_t* client =
      jack_client_open("probe", static_cast<jack_options_t>(JackNoStartServer | JackServerName),
                       &status, name.c_str());
  if (client == nullptr) return false;
  jack_client_close(client);
  return true;
}

}  // namespace

JackServer::JackServer() : name_("loftbeat-test-" + std::to_string(getpid())) {
  jack_set_error_function(quiet);
  jack_set_info_function(quiet);
  setenv("JACK_NO_START_SERVER", "1", 1);
  setenv("JACK_DEFAULT_SERVER", name_.c_str(), 1);
  process_ = fork();
  if (process_ == 0) become_server(name_);
  for (int attempt = 0; attempt < 100; ++attempt) {
    std::this_thread::sleep_for(std::chrono::milliseconds(100));
    int status = 0;
    if (waitpid(process_, &status, WNOHANG) == process_) {
      process_ = -1;
      trouble_ = WIFEXITED(status) && WEXITSTATUS(status) == 127 ? "jackd is not installed"
                                                                 : "jackd ended at once";
      return;
    }
    if (answers(name_)) return;
  }
  trouble_ = "jackd does not answer within ten seconds";
}

JackServer::~JackServer() {
  if (process_ < 0) return;
  kill(process_, SIGTERM);
  waitpid(process_, nullptr, 0);
}

}  // namespace loftbeat::voice
