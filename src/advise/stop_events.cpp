#include "advise/stop_events.h"

#include <algorithm>
#include <cctype>
#include <optional>
#include <set>
#include <string_view>
#include <utility>

namespace loftbeat::advise {
namespace {

using organ::ConsoleMove;
using organ::Organ;
using organ::Registration;
using What = ConsoleMove::What;

constexpr std::string_view kMarkWord = "stops";

bool is_pedal(const ConsoleMove& move) {
  return move.what == What::swell || move.what == What::crescendo;
}

std::string_view trimmed(std::string_view text) {
  constexpr std::string_view kSpaces = " \t\r\n";
  const std::size_t first = text.find_first_not_of(kSpaces);
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(kSpaces) - first + 1);
}

// What stands behind the word "stops" and a colon or space; nothing if it is no such mark.
std::optional<std::string_view> said_by_mark(std::string_view text) {
  text = trimmed(text);
  if (text.size() < kMarkWord.size()) return std::nullopt;
  const bool is_word =
      std::equal(kMarkWord.begin(), kMarkWord.end(), text.begin(), [](char w, char t) {
        return w == static_cast<char>(std::tolower(static_cast<unsigned char>(t)));
      });
  if (!is_word) return std::nullopt;
  text.remove_prefix(kMarkWord.size());
  if (text.empty()) return text;
  if (text.front() != ':' && text.front() != ' ') return std::nullopt;
  if (text.front() == ' ') text = trimmed(text);
  if (!text.empty() && text.front() == ':') text.remove_prefix(1);
  return trimmed(text);
}

bool is_drawn(const Registration& drawn, const ConsoleMove& move) {
  const auto& list = move.what == What::stop      ? drawn.stops
                     : move.what == What::coupler ? drawn.couplers
                                                  : drawn.tremulants;
  return std::binary_search(list.begin(), list.end(), move.index);
}

std::optional<ConsoleMove> named(const Organ& organ, const Registration& drawn,
                                 std::string_view text) {
  const char sign = text.empty() ? ' ' : text.front();
  if (sign == '+' || sign == '-') text = trimmed(text.substr(1));
  ConsoleMove move;
  if (const auto stop = organ::find_stop(organ, text)) {
    move = {What::stop, *stop, 1};
  } else if (const auto coupler = organ::find_coupler(organ, text)) {
    move = {What::coupler, *coupler, 1};
  } else if (const auto tremulant = organ::find_tremulant(organ, text)) {
    move = {What::tremulant, *tremulant, 1};
  } else {
    return std::nullopt;
  }
  const bool draws = sign == '+' || (sign != '-' && !is_drawn(drawn, move));
  move.value = draws ? 1 : 0;
  return move;
}

class Reader {
 public:
  Reader(const Organ& organ, Registration drawn)
      : organ_(organ), console_(organ), drawn_(std::move(drawn)) {}

  void feed(const take::Event& event) {
    if (event.kind == take::EventKind::marker) {
      if (const auto said = said_by_mark(event.bytes)) mark(event.at, *said);
      return;
    }
    StopEvent made = begun(event.at);
    for (const ConsoleMove& move : console_.feed(event)) {
      const Registration next = organ::moved(organ_, drawn_, move);
      const bool matters = move.what == What::piston || !(next == drawn_);
      drawn_ = next;
      if (matters && !is_pedal(move)) made.moves.push_back(move);
    }
    if (!made.moves.empty()) finish(std::move(made));
  }

  StopEvents done() { return std::move(out_); }

 private:
  StopEvent begun(Instant at) const {
    StopEvent made;
    made.at = at;
    made.before = drawn_;
    return made;
  }

  void finish(StopEvent made) {
    made.after = drawn_;
    out_.events.push_back(std::move(made));
  }

  void mark(Instant at, std::string_view said) {
    StopEvent made = begun(at);
    const auto time_only = [&] {
      made.told = StopEvent::Told::time_only;
      made.moves.clear();
      drawn_ = made.before;
      finish(std::move(made));
    };
    if (said.empty()) return time_only();
    while (!said.empty()) {
      const std::size_t comma = std::min(said.find(','), said.size());
      const auto move = named(organ_, drawn_, trimmed(said.substr(0, comma)));
      if (!move) {
        complain(trimmed(said.substr(0, comma)));
        return time_only();
      }
      drawn_ = organ::moved(organ_, drawn_, *move);
      made.moves.push_back(*move);
      said.remove_prefix(std::min(comma + 1, said.size()));
      said = trimmed(said);
    }
    finish(std::move(made));
  }

  void complain(std::string_view name) {
    if (!complained_.insert(std::string(name)).second) return;
    out_.notices.push_back({"a mark moves \"" + std::string(name) +
                                "\", which the organ does not have: only its time is used",
                            "", 0});
  }

  const Organ& organ_;
  organ::ConsoleReader console_;
  Registration drawn_;
  StopEvents out_;
  std::set<std::string> complained_;
};

bool sends_nothing(const Organ& organ) {
  const auto none = [](const auto& controls) {
    return std::all_of(controls.begin(), controls.end(), [](const auto& control) {
      return control.midi.kind == organ::MidiMapping::Kind::none;
    });
  };
  return none(organ.stops) && none(organ.couplers) && none(organ.tremulants) && none(organ.pistons);
}

std::string name_of(const Organ& organ, const ConsoleMove& move) {
  switch (move.what) {
    case What::coupler: return organ.couplers[move.index].name;
    case What::tremulant: return organ.tremulants[move.index].name;
    case What::piston: return organ.pistons[move.index].name;
    default: return organ::full_name(organ, organ.stops[move.index]);
  }
}

}  // namespace

StopEvents stop_events(const take::Take& take, const Organ& organ, Registration drawn) {
  Reader reader(organ, std::move(drawn));
  for (const take::Event& event : take.events) reader.feed(event);
  StopEvents events = reader.done();
  if (!events.events.empty()) return events;
  events.why_none = sends_nothing(organ)
                        ? "the organ file does not say what its stops send, and the take holds no "
                          "marks of stop moves"
                        : "the take holds no message or mark of a stop: its keyboard may send none";
  return events;
}

std::string moves_in_words(const Organ& organ, const std::vector<ConsoleMove>& moves) {
  std::string words;
  const auto add = [&](const char* verb, const auto& belongs) {
    const char* before = verb;
    for (const ConsoleMove& move : moves) {
      if (!belongs(move)) continue;
      if (before == verb && !words.empty()) words += "; ";
      words += before + name_of(organ, move);
      before = ", ";
    }
  };
  const auto presses = [](const ConsoleMove& move) { return move.what == What::piston; };
  add("presses ", presses);
  add("draws ", [&](const ConsoleMove& move) { return !presses(move) && move.value > 0; });
  add("pushes in ", [&](const ConsoleMove& move) { return !presses(move) && move.value <= 0; });
  return words;
}

}  // namespace loftbeat::advise
