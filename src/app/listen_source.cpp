#include "app/listen_source.h"

#include <unistd.h>

#include <iostream>
#include <utility>

#include "app/endings.h"
#include "base/file.h"
#include "live/devices/midi_ports.h"
#include "organ/registration.h"
#include "report/utf8.h"
#include "take/smf_take.h"

namespace loftbeat::app {
namespace {

// Everything that could be listened to, but for the loop that ALSA always has.
std::vector<std::string> ports_to_ask_about() {
  std::vector<std::string> names;
  for (const live::MidiSystem& system : live::look_for_midi()) {
    for (const std::string& name : system.inputs)
      if (name.rfind("Midi Through", 0) != 0) names.push_back(name);
  }
  return names;
}

// The numbers of a line like "1, 3"; empty if it is none.
std::vector<std::size_t> numbers_in(const std::string& line, std::size_t most) {
  std::vector<std::size_t> numbers;
  std::size_t number = 0;
  bool digits = false;
  for (const char c : line + ",") {
    if (c >= '0' && c <= '9') {
      number = number * 10 + static_cast<std::size_t>(c - '0');
      digits = true;
      if (number > most) return {};
    } else if (c == ',' || c == ' ') {
      if (digits && number == 0) return {};
      if (digits) numbers.push_back(number);
      number = 0;
      digits = false;
    } else {
      return {};
    }
  }
  return numbers;
}

// Asks which of several inputs are meant; empty if nobody can be asked or answers.
std::vector<InputChoice> asked_for() {
  const std::vector<std::string> names = ports_to_ask_about();
  if (names.size() < 2 || isatty(STDIN_FILENO) == 0) return {};
  std::string question = "There are several MIDI inputs:\n";
  for (std::size_t i = 0; i < names.size(); ++i)
    question += "  " + std::to_string(i + 1) + "  " + report::clean_text(names[i]) + "\n";
  question += "Which? (a number, or several as 1, 2) ";
  static_cast<void>(loftbeat::write_file("-", question));
  std::string line;
  if (!std::getline(std::cin, line)) return {};
  std::vector<InputChoice> chosen;
  for (const std::size_t number : numbers_in(line, names.size()))
    chosen.push_back({names[number - 1], ""});
  return chosen;
}

// The channel, from 0, on which a division's messages are put.
Result<int> channel_of(const std::string& division, const organ::Organ* organ) {
  if (division.empty()) return live::rt::Ears::kAsSent;
  if (organ == nullptr)
    return wrong_use("--input " + division + "=...: the plan names no organ with divisions.",
                     "Write organ = \"...\" into the plan, or name the input alone.");
  const Result<std::size_t> found = organ::find_division(*organ, division);
  if (!found) {
    Error error = found.error();
    error.kind = ErrorKind::wrong_use;
    return error;
  }
  const int channel = organ->divisions[*found].channel;
  if (channel == 0)
    return wrong_use("the division \"" + division + "\" has no channel.",
                     "Give it one in " + organ->file + ".");
  return channel - 1;
}

}  // namespace

Status ListenSource::open_inputs(const ListenOrder& order, const organ::Organ* organ,
                                 const std::vector<live::rt::Reader>& readers) {
  start_ = Clock::now();
  inputs_ = std::make_unique<live::MidiInputs>(start_, readers);
  std::vector<InputChoice> choices = order.inputs;
  const bool own = !order.own_input.empty();
  if (choices.empty() && !own) choices = asked_for();
  if (choices.empty() && !own) choices = {{"", ""}};
  for (const InputChoice& choice : choices) {
    const Result<int> channel = channel_of(choice.division, organ);
    if (!channel) return channel.error();
    if (Status status = inputs_->open(choice.name, *channel); !status) return status;
  }
  if (own) {
    if (Status status = inputs_->open_virtual("", order.own_input); !status) return status;
  }
  states_ = inputs_->states();
  return {};
}

Result<ListenSource> ListenSource::open(const ListenOrder& order, const organ::Organ* organ,
                                        std::vector<live::rt::Reader> readers) {
  ListenSource source;
  if (order.replay_path.empty()) {
    if (Status status = source.open_inputs(order, organ, readers); !status) return status.error();
    return source;
  }
  Result<take::Take> take = take::read_take(order.replay_path);
  if (!take) return take.error();
  source.take_ = std::make_unique<take::Take>(std::move(*take));
  source.ears_ = std::make_unique<live::rt::Ears>(readers);
  source.start_ = Clock::now();
  return source;
}

std::vector<live::rt::MessageQueue*> ListenSource::queues(live::rt::Reader reader) const {
  if (inputs_) return inputs_->queues(reader);
  live::rt::MessageQueue* queue = ears_->of(reader);
  return queue == nullptr ? std::vector<live::rt::MessageQueue*>{}
                          : std::vector<live::rt::MessageQueue*>{queue};
}

void ListenSource::begin(Clock::time_point start) {
  start_ = start;
  if (inputs_) inputs_->count_from(start);
}

void ListenSource::play_take(double times, Clock::time_point begin) {
  if (take_)
    replay_ =
        std::make_unique<live::Replay>(*take_, live::Replay::Order{times, start_, begin}, *ears_);
}

std::vector<std::string> ListenSource::watch() {
  std::vector<std::string> sentences;
  if (!inputs_) return sentences;
  inputs_->watch();
  const std::vector<live::InputState> now = inputs_->states();
  for (std::size_t i = 0; i < now.size(); ++i) {
    if (states_[i].there == now[i].there) continue;
    const std::string name = report::clean_text(now[i].name);
    sentences.push_back(now[i].there
                            ? name + " is back."
                            : name + " is gone; plug it in again, what was played is kept.");
  }
  states_ = now;
  return sentences;
}

std::string ListenSource::names() const {
  std::string names;
  for (const live::InputState& state : states_)
    names += (names.empty() ? "" : ", ") + report::clean_text(state.name);
  return names;
}

std::uint64_t ListenSource::lost() const {
  std::uint64_t sum = 0;
  if (!inputs_) return sum;
  for (const live::InputState& state : inputs_->states()) sum += state.refused;
  return sum;
}

std::string loss_words(std::uint64_t lost, std::uint64_t told) {
  if (lost <= told) return "";
  return std::to_string(lost) + (lost == 1 ? " message" : " messages") +
         " came too fast and were lost; the review may miss notes.";
}

std::uint64_t ListenSource::messages() const {
  std::uint64_t sum = 0;
  if (!inputs_) return sum;
  for (const live::InputState& state : inputs_->states()) sum += state.messages;
  return sum;
}

}  // namespace loftbeat::app
