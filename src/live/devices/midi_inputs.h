#pragma once

#include <atomic>
#include <chrono>
#include <cstdint>
#include <memory>
#include <string>
#include <vector>

#include "base/result.h"
#include "live/rt/ears.h"

namespace loftbeat::live {

class PortWatch;

// What is known of one input that was asked for.
struct InputState {
  std::string system;          // "JACK"
  std::string name;            // of the port; of a virtual one as it was made
  bool there = false;          // false: unplugged; it is taken up again when it comes back
  std::uint64_t messages = 0;  // handed to the queue
  std::uint64_t too_long = 0;  // left out
  std::uint64_t refused = 0;   // left out because the queue was full
};

// MIDI inputs, each with a queue of its own that its callback pushes to. All calls from one thread.
class MidiInputs {
 public:
  using Clock = std::chrono::steady_clock;
  // Stamps count from `start`.
  explicit MidiInputs(Clock::time_point start,
                      std::vector<rt::Reader> readers = {rt::Reader::keeper});
  ~MidiInputs();
  MidiInputs(const MidiInputs&) = delete;
  MidiInputs& operator=(const MidiInputs&) = delete;

  // Opens the port whose name contains `name`, upper or lower case; empty: the only one there is.
  // Errors: none, with those there are; several, with all of them; one that is open already.
  // `channel`: as rt::Ears has it, for keyboards that all send on one.
  [[nodiscard]] Status open(const std::string& name, int channel = rt::Ears::kAsSent);
  // Makes an input that others may connect to; system empty: the first that answers. Errors: the
  // system ("JACK") does not answer, or none does.
  [[nodiscard]] Status open_virtual(const std::string& system, const std::string& name);

  // From now on stamps count from `start`, and all that waits for keeper and engine is gone;
  // neither may be at work meanwhile.
  void count_from(Clock::time_point start);

  // To be called about twice a second: notices what went away (its held keys are released, see
  // input_gone) and takes up again what came back.
  void watch();

  // In the order in which they were opened; the index is the port of the events. The queues live as
  // long as this.
  [[nodiscard]] std::vector<rt::MessageQueue*> queues(rt::Reader reader = rt::Reader::keeper);
  [[nodiscard]] std::vector<InputState> states() const;

 private:
  struct Input;
  [[nodiscard]] std::unique_ptr<Input> make_input_of(std::string system, std::string name,
                                                     int channel) const;
  Clock::time_point start_;
  std::vector<rt::Reader> readers_;
  std::vector<std::unique_ptr<Input>> inputs_;
  std::unique_ptr<PortWatch> watch_;
};

}  // namespace loftbeat::live
