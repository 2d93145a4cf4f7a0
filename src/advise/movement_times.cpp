#include "advise/movement_times.h"

#include <algorithm>
#include <array>
#include <optional>
#include <string>

#include <fmt/format.h>

#include "advise/hand_work.h"
#include "timing/robust.h"

namespace loftbeat::advise {
namespace {

using organ::ConsoleMove;
using organ::Side;
using Note = take::TakenNote;

// Keys within this of a chord's onset belong to it: chords may be spread (follow takes 120 ms).
constexpr double kChordSpreadS = 0.12;

struct Way {
  double measured_s = 0;
  double tabled_s = 0;
  [[nodiscard]] bool is_seen() const {
    return measured_s >= kLeastRatio * tabled_s && measured_s <= kMostRatio * tabled_s &&
           tabled_s > 0;
  }
};

class Watcher {
 public:
  explicit Watcher(const StopQuestion& q) : q_(q), organ_(*q.console.organ) {}

  std::vector<MovementTime> run() {
    std::vector<MovementTime> times;
    if (q_.plan.helper || q_.alignment.passes.empty()) return times;
    const auto drawn = planned_in(organ_, q_.plan, q_.alignment.passes.front());
    if (!drawn) return times;
    events_ = stop_events(q_.raw, organ_, *drawn).events;
    std::vector<Instant> instants;
    for (const StopEvent& event : events_) instants.push_back(event.at);
    const auto movements = timing::movements_of(instants);
    const double stamp_s = seconds(q_.take.stamp_uncertainty);
    for (const auto& place : timing::place_movements(movements, q_.joins, stamp_s)) {
      if (place.join < 0 || place.side == timing::MoveSide::after) continue;
      const auto& join = q_.joins[static_cast<std::size_t>(place.join)];
      if (const auto seen = time_of(movements[place.movement], join)) times.push_back(*seen);
    }
    return times;
  }

 private:
  // The movement by the tables, if it is one go whose controls are known.
  std::optional<Movement> tabled(const timing::StopMovement& movement) const {
    bool pistons = false;
    for (std::size_t i = movement.begin; i < movement.end; ++i) {
      if (events_[i].told == StopEvent::Told::time_only) return std::nullopt;
      for (const ConsoleMove& move : events_[i].moves)
        pistons = pistons || move.what == ConsoleMove::What::piston;
    }
    const StopEvent& first = events_[movement.begin];
    if (pistons) {
      // A console that tells of its piston may tell of the stops it moved as well: one piston only.
      const auto& moves = first.moves;
      if (moves.size() != 1 || moves.front().what != ConsoleMove::What::piston) return std::nullopt;
      const Movement press = piston_work(q_.console, moves.front().index);
      if (press.kind != Movement::Kind::thumb_piston) return std::nullopt;
      return press;
    }
    HandWork work = knob_work(q_.console, first.before, events_[movement.end - 1].after);
    if (work.movements.size() != 1 || !work.movements.front().places_known) return std::nullopt;
    return work.movements.front();
  }

  [[nodiscard]] bool is_pedal(const Note& note) const {
    const auto division = organ::division_of(organ_, note.channel + 1, note.pitch);
    return (q_.take.pedal_channels >> note.channel & 1U) != 0 ||
           (division && organ_.divisions[*division].kind == organ::Division::Kind::pedal);
  }

  // The keys of the hands that begin about an instant, lowest first.
  std::vector<const Note*> chord_at(double onset_s) const {
    std::vector<const Note*> chord;
    for (const Note& note : q_.take.notes) {
      if (std::abs(seconds(note.on) - onset_s) <= kChordSpreadS && !is_pedal(note))
        chord.push_back(&note);
    }
    std::sort(chord.begin(), chord.end(),
              [](const Note* a, const Note* b) { return a->pitch < b->pitch; });
    return chord;
  }

  std::optional<MovementTime> time_of(const timing::StopMovement& movement,
                                      const timing::JoinMeasures& join) const {
    const std::optional<Movement> table = tabled(movement);
    const auto last = chord_at(join.last_onset_s);
    const auto next = chord_at(join.onset_s);
    if (!table || last.empty() || next.empty()) return std::nullopt;
    const bool left = table->side == Side::left;
    const bool either = !left && table->side != Side::right;
    double left_s = seconds((left ? last.front() : last.back())->off);
    double came_s = seconds((left ? next.front() : next.back())->on);
    if (either) {
      left_s = std::max(left_s, seconds(last.front()->off));
      came_s = std::min(came_s, seconds(next.front()->on));
    }
    const Way out{seconds(movement.first) - left_s, table->reach_s};
    const Way back{came_s - seconds(movement.last), table->back_s};
    Way seen;
    const auto add = [&](const Way& way) {
      seen.measured_s += way.measured_s;
      seen.tabled_s += way.tabled_s;
    };
    if (out.is_seen()) add(out);
    if (join.verdict == timing::JoinVerdict::late && back.is_seen()) add(back);
    if (!seen.is_seen()) return std::nullopt;
    MovementTime time;
    time.side = table->is_piston() ? Side::unknown : table->side;
    time.handling = table->is_piston()                    ? Handling::press_piston
                    : table->kind == Movement::Kind::draw ? Handling::draw
                                                          : Handling::push_in;
    time.ratio = seen.measured_s / seen.tabled_s;
    return time;
  }

  const StopQuestion& q_;
  const organ::Organ& organ_;
  std::vector<StopEvent> events_;
};

constexpr std::array kSides = {Side::left, Side::right, Side::above, Side::unknown};
constexpr std::array kHandlings = {Handling::draw, Handling::push_in, Handling::press_piston};

const char* side_words(Side side) {
  if (side == Side::left) return " on the left";
  if (side == Side::right) return " on the right";
  return side == Side::above ? " above the manuals" : "";
}

const char* handling_words(Handling handling) {
  if (handling == Handling::draw) return "drawing";
  return handling == Handling::push_in ? "pushing in" : "pistons";
}

}  // namespace

std::vector<MovementTime> movement_times(const StopQuestion& question) {
  return Watcher(question).run();
}

PlayerTimes learned_from(const std::vector<MovementTime>& times) {
  PlayerTimes player;
  for (const Side side : kSides) {
    for (const Handling handling : kHandlings) {
      std::vector<double> ratios;
      for (const MovementTime& time : times)
        if (time.side == side && time.handling == handling) ratios.push_back(time.ratio);
      if (ratios.empty()) continue;
      PlayerTimes::Learned& learned = player.at(side, handling);
      learned.observations = static_cast<int>(ratios.size());
      learned.factor = timing::median(std::move(ratios));
    }
  }
  return player;
}

std::string player_times_words(const PlayerTimes& player) {
  std::string words;
  for (const Handling handling : kHandlings) {
    for (const Side side : kSides) {
      const PlayerTimes::Learned& learned = player.at(side, handling);
      if (learned.observations < kFewestObservations) continue;
      words += fmt::format("{}{}{} {:.2f} times the tabled time ({} seen)",
                           words.empty() ? "" : ", ", handling_words(handling), side_words(side),
                           used_factor(learned), learned.observations);
    }
  }
  return words;
}

}  // namespace loftbeat::advise
