#include "app/learn_command.h"

#include <algorithm>
#include <chrono>
#include <filesystem>
#include <optional>
#include <thread>
#include <utility>

#include <fmt/format.h>

#include "app/endings.h"
#include "app/listen_keys.h"
#include "app/listen_practice.h"
#include "app/listen_screen.h"
#include "app/listen_source.h"
#include "base/file.h"
#include "live/message_event.h"
#include "live/oldest.h"
#include "organ/midi_learning.h"
#include "organ/organ.h"

namespace loftbeat::app {
namespace {

using Clock = ListenSource::Clock;
using namespace std::chrono_literals;
using live::rt::Reader;

// So long after a message nothing more belongs to it.
constexpr auto kSettled = 400ms;

// One control that is asked for.
struct Asked {
  organ::ControlPlace::Kind kind = organ::ControlPlace::Kind::stop;
  std::size_t index = 0;
  std::string name;
};

std::vector<Asked> all_controls(const organ::Organ& organ) {
  using Kind = organ::ControlPlace::Kind;
  std::vector<Asked> all;
  for (std::size_t i = 0; i < organ.stops.size(); ++i)
    all.push_back({Kind::stop, i, full_name(organ, organ.stops[i])});
  for (std::size_t i = 0; i < organ.couplers.size(); ++i)
    all.push_back({Kind::coupler, i, organ.couplers[i].name});
  for (std::size_t i = 0; i < organ.tremulants.size(); ++i)
    all.push_back({Kind::tremulant, i, organ.tremulants[i].name});
  for (std::size_t i = 0; i < organ.pistons.size(); ++i)
    all.push_back({Kind::piston, i, "piston " + organ.pistons[i].name});
  return all;
}

enum class Answer { moved, left, ended };

class Learner {
 public:
  Learner(ListenSource& source, ListenScreen& screen, ListenKeys& keys)
      : screen_(screen), keys_(keys), queues_(source.queues(Reader::keeper)) {}

  // The mappings of all controls that were moved.
  std::vector<organ::ControlPlace> learn(const std::vector<Asked>& controls) {
    std::vector<organ::ControlPlace> places;
    for (const Asked& control : controls) {
      const Answer answer = learn_one(control, places);
      if (answer == Answer::ended) break;
    }
    return places;
  }

 private:
  Answer learn_one(const Asked& control, std::vector<organ::ControlPlace>& places) {
    const bool piston = control.kind == organ::ControlPlace::Kind::piston;
    while (true) {
      std::vector<take::Event> on;
      std::vector<take::Event> off;
      screen_.say(control.name + (piston ? ": press it." : ": draw it."));
      Answer answer = wait_for_move(on);
      if (answer != Answer::moved) return answer;
      if (!piston) {
        screen_.say("  and push it in.");
        answer = wait_for_move(off);
        if (answer != Answer::moved) return answer;
      }
      const auto mapping = organ::learned_mapping(
          on, off, piston ? organ::LearnedFor::press : organ::LearnedFor::two_ways);
      if (mapping) {
        screen_.say("  " + organ::format_mapping(*mapping));
        places.push_back({control.kind, control.index, *mapping});
        return Answer::moved;
      }
      screen_.say("  " + to_string(mapping.error()) + " Once more, or Enter to leave it as it is.");
    }
  }

  // Until something came and no more comes.
  Answer wait_for_move(std::vector<take::Event>& events) {
    drain();  // what came before it was asked for
    Clock::time_point last = Clock::now();
    while (!interrupted()) {
      if (const auto key = keys_.pressed()) {
        if (*key == '.') return Answer::ended;
        if (*key == '\n') return Answer::left;
      }
      std::vector<take::Event> more = drain();
      if (!more.empty()) last = Clock::now();
      events.insert(events.end(), more.begin(), more.end());
      if (!events.empty() && Clock::now() - last >= kSettled) return Answer::moved;
      std::this_thread::sleep_for(10ms);
    }
    return Answer::ended;
  }

  std::vector<take::Event> drain() {
    std::vector<take::Event> events;
    while (live::rt::MessageQueue* queue = live::oldest_of(queues_)) {
      if (auto event = live::event_of(*queue->front())) events.push_back(std::move(*event));
      queue->pop();
    }
    return events;
  }

  ListenScreen& screen_;
  ListenKeys& keys_;
  std::vector<live::rt::MessageQueue*> queues_;
};

Status write_learned(const LearnOrder& order, const std::string& text,
                     const std::vector<organ::ControlPlace>& places) {
  const auto rewritten = organ::with_mappings(text, order.organ_path, places);
  if (!rewritten) return rewritten.error();
  return loftbeat::write_file(order.to_path, *rewritten);
}

}  // namespace

int run_learn(const LearnOrder& order) {
  std::error_code why;
  if (std::filesystem::exists(order.to_path, why))
    return fail(wrong_use("--to " + order.to_path + " is there already.",
                          "Name a new file; the organ file itself is never written over."));
  const Result<std::string> text = read_file(order.organ_path);
  if (!text) return fail(text.error());
  const Result<organ::Organ> organ = organ::parse_organ(*text, order.organ_path);
  if (!organ) return fail(organ.error());
  ListenOrder inputs;
  inputs.inputs = order.inputs;
  Result<ListenSource> source = ListenSource::open(inputs, &*organ, {Reader::keeper});
  if (!source) return fail(source.error());
  ListenScreen screen;
  ListenKeys keys;
  watch_interrupts();
  screen.say(
      "Listening to " + source->names() +
      ". Move each control alone as it is named; Enter leaves one as it is, a full stop ends.");
  Learner learner(*source, screen, keys);
  const std::vector<organ::ControlPlace> places = learner.learn(all_controls(*organ));
  if (places.empty()) {
    screen.say("Nothing was learned; no file is written.");
    return kReviewed;
  }
  if (const Status status = write_learned(order, *text, places); !status)
    return fail(status.error());
  screen.say(fmt::format(
      "{} learned and written to {}.",
      places.size() == 1 ? std::string("1 control") : fmt::format("{} controls", places.size()),
      order.to_path));
  return kReviewed;
}

}  // namespace loftbeat::app
