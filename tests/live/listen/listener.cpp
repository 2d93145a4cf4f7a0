#include "listener.h"

#include <fcntl.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <chrono>
#include <csignal>
#include <filesystem>
#include <thread>

#include <gtest/gtest.h>

#include "base/file.h"
#include "take/smf_take.h"

namespace loftbeat::live {
namespace {

namespace fs = std::filesystem;
using namespace std::chrono_literals;

// In the child: becomes the program, or ends.
void become(std::vector<std::string>& words, const std::string& out_path, int keyboard,
            std::size_t most_file_bytes) {
  const int out = ::open(out_path.c_str(), O_WRONLY | O_CREAT | O_TRUNC | O_APPEND, 0644);
  for (const int stream : {STDOUT_FILENO, STDERR_FILENO}) ::dup2(out, stream);
  ::dup2(keyboard, STDIN_FILENO);
  if (most_file_bytes > 0) {
    std::signal(SIGXFSZ, SIG_IGN);
    const rlimit limit{most_file_bytes, most_file_bytes};
    ::setrlimit(RLIMIT_FSIZE, &limit);
  }
  std::vector<char*> arguments;
  for (std::string& word : words) arguments.push_back(word.data());
  arguments.push_back(nullptr);
  ::execv(LOFTBEAT_PROGRAM, arguments.data());
  ::_exit(127);
}

int times_in(const std::string& text, const std::string& words) {
  int times = 0;
  for (std::size_t at = text.find(words); at != std::string::npos; at = text.find(words, at + 1))
    ++times;
  return times;
}

}  // namespace

Listener::Listener(const std::string& sessions, std::vector<std::string> arguments,
                   std::size_t most_file_bytes)
    : out_(sessions + ".out") {
  std::vector<std::string> words = {"listen"};
  words.insert(words.end(), arguments.begin(), arguments.end());
  words.insert(words.end(), {"--sessions", sessions});
  run(std::move(words), most_file_bytes);
}

Listener::Listener(const std::string& scratch, const Command& command) : out_(scratch + ".out") {
  run(command.words, 0);
}

void Listener::run(std::vector<std::string> words, std::size_t most_file_bytes) {
  words.insert(words.begin(), "loftbeat");
  int ends[2];
  EXPECT_EQ(::pipe(ends), 0);
  child_ = ::fork();
  if (child_ == 0) {
    ::close(ends[1]);
    become(words, out_, ends[0], most_file_bytes);
  }
  ::close(ends[0]);
  keyboard_ = ends[1];
}

Listener::~Listener() {
  kill();
  ::close(keyboard_);
}

void Listener::kill() {
  if (child_ <= 0) return;
  ::kill(child_, SIGKILL);
  ::waitpid(child_, nullptr, 0);
  child_ = -1;
}

bool Listener::says(const std::string& words, int times) const {
  for (int i = 0; i < 4000; ++i) {
    if (times_in(output(), words) >= times) return true;
    std::this_thread::sleep_for(10ms);
  }
  return false;
}

std::string Listener::output() const {
  const auto text = read_file(out_);
  return text ? *text : "";
}

void Listener::press(char key) const { EXPECT_EQ(::write(keyboard_, &key, 1), 1); }
void Listener::interrupt() const { ::kill(child_, SIGINT); }

int Listener::ended() {
  int status = 0;
  ::waitpid(child_, &status, 0);
  child_ = -1;
  return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
}

std::string fresh_sessions(const std::string& name) {
  const std::string sessions =
      ::testing::TempDir() + "loftbeat-" + std::to_string(::getpid()) + "-" + name;
  fs::remove_all(sessions);
  return sessions;
}

std::string demo_plan() { return std::string(LOFTBEAT_SOURCE_DIR) + "/sessions/demo.plan.toml"; }

std::vector<take::Event> kept_events(const std::string& sessions) {
  std::vector<take::Event> kept;
  for (const auto& folder : fs::directory_iterator(sessions)) {
    const auto take = take::read_take(folder.path().string() + "/take.mid");
    EXPECT_TRUE(take.ok());
    if (take) kept.insert(kept.end(), take->events.begin(), take->events.end());
  }
  return kept;
}

}  // namespace loftbeat::live
