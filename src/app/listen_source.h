#pragma once

#include <memory>
#include <string>
#include <vector>

#include "app/listen_command.h"
#include "live/devices/midi_inputs.h"
#include "live/live.h"
#include "organ/organ.h"
#include "take/take.h"

namespace loftbeat::app {

// What the player is told when messages were lost: `lost` in all, of which he knows `told`. Empty
// if there is nothing new.
[[nodiscard]] std::string loss_words(std::uint64_t lost, std::uint64_t told);

// Where the playing comes from: the inputs, or a take.
class ListenSource {
 public:
  using Clock = live::MidiInputs::Clock;
  // `organ`: whose divisions inputs may be named for; null: none. Asks at the terminal which inputs
  // are meant, if that is not clear. Errors: no such input, no such division, what take readers
  // say.
  [[nodiscard]] static Result<ListenSource> open(const ListenOrder& order,
                                                 const organ::Organ* organ,
                                                 std::vector<live::rt::Reader> readers);

  [[nodiscard]] std::vector<live::rt::MessageQueue*> queues(live::rt::Reader reader) const;
  // Stamps count from now on.
  void begin(Clock::time_point start);
  // The take begins to play, its own start at `begin`; nothing with inputs.
  void play_take(double times, Clock::time_point begin);
  void stop_take() { replay_.reset(); }
  [[nodiscard]] bool is_replay() const { return inputs_ == nullptr; }
  [[nodiscard]] bool take_is_over() const { return replay_ && replay_->done(); }
  // To be called about every quarter of a second: what went away and what came back, in sentences.
  [[nodiscard]] std::vector<std::string> watch();
  [[nodiscard]] std::string names() const;
  [[nodiscard]] std::uint64_t lost() const;
  [[nodiscard]] std::uint64_t messages() const;

 private:
  ListenSource() = default;
  Status open_inputs(const ListenOrder& order, const organ::Organ* organ,
                     const std::vector<live::rt::Reader>& readers);

  std::unique_ptr<live::MidiInputs> inputs_;
  std::vector<live::InputState> states_;
  std::unique_ptr<take::Take> take_;
  std::unique_ptr<live::rt::Ears> ears_;
  Clock::time_point start_;
  std::unique_ptr<live::Replay> replay_;  // last: it uses the others
};

}  // namespace loftbeat::app
