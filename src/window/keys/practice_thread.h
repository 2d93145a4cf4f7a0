#pragma once

#include <atomic>
#include <cstdint>
#include <deque>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <thread>
#include <vector>

#include "app/listen_command.h"
#include "app/listen_face.h"
#include "app/place_words.h"

namespace loftbeat::window {

// What the window draws of a practice.
struct PracticeSight {
  enum class State { closed, opening, waiting, counting, playing, reviewing } state = State::closed;
  std::string counting;  // "1 2 3"
  app::PlaceWords place;
  std::string verdict;              // on the last join
  std::string inputs;               // names of what is listened to
  std::uint64_t messages = 0;       // that they have handed over
  bool is_replay = false;           // a take plays instead
  std::vector<std::size_t> drawn;   // stops, as organ::Registration has them
  std::vector<std::string> result;  // what is said of the last try
  std::string kept;                 // folder of the last practice that was kept
  int practices = 0;                // kept since this was opened
  std::string trouble;              // why it could not be opened or went on; with what to do
};

// Practises in a thread of its own: opens inputs and sound, and listens to one practice after
// another until it is closed. The functions are called from one other thread and never wait,
// except close().
class PracticeThread {
 public:
  PracticeThread() = default;
  ~PracticeThread() { close(); }
  PracticeThread(const PracticeThread&) = delete;
  PracticeThread& operator=(const PracticeThread&) = delete;

  // Closes what runs first.
  void open(app::ListenOrder order);
  void ask(const app::ListenWish& wish);
  // Asks it to end without waiting; look() tells when it has.
  void leave() { ask({app::ListenWish::What::leave, 0}); }
  // Ends what is played, which is kept, and waits for that.
  void close();

  [[nodiscard]] PracticeSight look() const;
  // Sentences said since the last call, oldest first.
  [[nodiscard]] std::vector<std::string> said();

 private:
  class Face;
  void run(const app::ListenOrder& order);
  void practise(const app::ListenOrder& order);

  mutable std::mutex lock_;  // of what follows; held for moments only
  PracticeSight sight_;
  std::vector<std::string> said_;
  std::deque<app::ListenWish> wishes_;
  std::atomic<bool> runs_{false};
  std::thread thread_;
};

}  // namespace loftbeat::window
