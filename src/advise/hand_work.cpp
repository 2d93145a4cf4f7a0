#include "advise/hand_work.h"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <tuple>
#include <utility>

#include "advise/motion_times.h"

namespace loftbeat::advise {
namespace {

using organ::ConsoleMove;
using organ::Registration;
using organ::Side;

constexpr double kKnobTravelCm = 5;  // common practice, no source; so are the next three
constexpr double kTabTravelCm = 2;
constexpr double kThumbPistonCm = 10;  // below the keys, under the hand
constexpr double kToePistonCm = 20;

using Moves = std::vector<ConsoleMove>;

void add_differences(const std::vector<std::size_t>& before, const std::vector<std::size_t>& after,
                     ConsoleMove::What what, Moves& moves) {
  std::vector<std::size_t> differ;
  std::set_symmetric_difference(before.begin(), before.end(), after.begin(), after.end(),
                                std::back_inserter(differ));
  for (const std::size_t index : differ) {
    const bool on = std::binary_search(after.begin(), after.end(), index);
    moves.push_back({what, index, on ? 1.0 : 0.0});
  }
}

const Spot& spot_of(const ConsoleMap& console, const ConsoleMove& move) {
  if (move.what == ConsoleMove::What::coupler) return console.couplers[move.index];
  if (move.what == ConsoleMove::What::tremulant) return console.tremulants[move.index];
  return console.stops[move.index];
}

void scale(Movement& movement, double factor) {
  movement.eyes_s *= factor;
  movement.reach_s *= factor;
  movement.moving_s *= factor;
  movement.back_s *= factor;
}

// One go over the knobs or tabs of one group.
Movement go(const ConsoleMap& console, Moves group, Movement::Kind kind,
            const PlayerTimes& player) {
  const auto place = [&](const ConsoleMove& move) {
    const Spot& spot = spot_of(console, move);
    return std::tuple(spot.row, spot.place, move.what, move.index);
  };
  std::sort(group.begin(), group.end(),
            [&](const ConsoleMove& a, const ConsoleMove& b) { return place(a) < place(b); });
  Movement movement;
  movement.kind = kind;
  movement.side = spot_of(console, group.front()).side;
  const double travel_cm = movement.side == Side::above ? kTabTravelCm : kKnobTravelCm;
  const Spot* last = nullptr;
  for (const ConsoleMove& move : group) {
    const Spot& spot = spot_of(console, move);
    movement.places_known = movement.places_known && spot.known;
    if (last == nullptr) {
      const double out_cm = reach_cm(spot);
      movement.way_cm = out_cm;
      movement.eyes_s =
          seconds_from_tmu(eye_travel_tmu(from_desk_cm(spot), kEyeToDeskCm) + kEyeFocusTmu);
      movement.reach_s = seconds_from_tmu(reach_tmu(Reach::varying, out_cm) + kTouchTmu);
    } else {
      const double between_cm = apart_cm(*last, spot);
      movement.way_cm += between_cm;
      movement.moving_s += seconds_from_tmu(reach_tmu(Reach::varying, between_cm) + kTouchTmu);
    }
    movement.moving_s += seconds_from_tmu(carry_tmu(Carry::to_a_stop, travel_cm));
    last = &spot;
  }
  movement.back_s = seconds_from_tmu(reach_tmu(Reach::back, reach_cm(*last)));
  movement.controls = std::move(group);
  const bool draw = kind == Movement::Kind::draw;
  scale(movement, used_factor(player.at(movement.side, draw ? Handling::draw : Handling::push_in)));
  return movement;
}

Movement press(const organ::Organ& organ, std::size_t index, const PlayerTimes& player) {
  Movement movement;
  const bool thumb = organ.pistons[index].by == organ::Piston::By::thumb;
  movement.kind = thumb ? Movement::Kind::thumb_piston : Movement::Kind::toe_piston;
  movement.controls = {{ConsoleMove::What::piston, index, 1}};
  movement.way_cm = thumb ? kThumbPistonCm : kToePistonCm;
  if (thumb) {
    movement.reach_s = seconds_from_tmu(reach_tmu(Reach::fixed, kThumbPistonCm) + kTouchTmu);
  } else {
    movement.reach_s = seconds_from_tmu(leg_tmu(kToePistonCm) + kFootTmu);
    movement.back_s = seconds_from_tmu(leg_tmu(kToePistonCm));
  }
  scale(movement, used_factor(player.at(Side::unknown, Handling::press_piston)));
  return movement;
}

// Groups of one direction, each one go.
void add_goes(const ConsoleMap& console, const Moves& moves, Movement::Kind kind,
              const PlayerTimes& player, std::vector<Movement>& out) {
  const double on = kind == Movement::Kind::draw ? 1 : 0;
  const std::size_t first = out.size();
  for (const Side side : {Side::left, Side::right, Side::above, Side::unknown}) {
    Moves group;
    for (const ConsoleMove& move : moves) {
      if (move.value == on && spot_of(console, move).side == side) group.push_back(move);
    }
    if (group.empty()) continue;
    // Side not said: as bad as can be, one on each side.
    if (side == Side::unknown && group.size() > 1 && out.size() == first) {
      out.push_back(go(console, {group.front()}, kind, player));
      group.erase(group.begin());
    }
    out.push_back(go(console, std::move(group), kind, player));
  }
}

void add_knobs(const ConsoleMap& console, const Moves& moves, const PlayerTimes& player,
               std::vector<Movement>& out) {
  add_goes(console, moves, Movement::Kind::draw, player, out);
  add_goes(console, moves, Movement::Kind::push_in, player, out);
}

// The search for the cheapest way with pistons.
class Search {
 public:
  Search(const ConsoleMap& console, const Registration& after, const PlayerTimes& player)
      : console_(console), organ_(*console.organ), after_(after), player_(player) {}

  std::vector<Movement> from(const Registration& before) {
    try_divisions(before, controls_between(before, after_), 0);
    for (std::size_t p = 0; p < organ_.pistons.size(); ++p) {
      if (!organ_.pistons[p].division) press_and(p, before, 0);
    }
    return std::move(best_);
  }

 private:
  void press_and(std::size_t piston, const Registration& state, std::size_t next_division) {
    const Registration pressed = organ::after_piston(organ_, state, organ_.pistons[piston]);
    Moves left = controls_between(pressed, after_);
    // Removing a control from a go never makes it dearer: a piston that mends nothing is no help.
    const Moves now = controls_between(state, after_);
    const bool mends = std::any_of(now.begin(), now.end(), [&](const ConsoleMove& move) {
      return std::find(left.begin(), left.end(), move) == left.end();
    });
    if (!mends) return;
    chosen_.push_back(piston);
    try_divisions(pressed, std::move(left), next_division);
    chosen_.pop_back();
  }

  void try_divisions(const Registration& state, const Moves& left, std::size_t division) {
    const std::size_t least = chosen_.size() + (left.empty() ? 0 : 1);
    if (known_ && least > best_.size()) return;
    if (left.empty() || division == organ_.divisions.size()) {
      finish(left);
      return;
    }
    try_divisions(state, left, division + 1);
    for (std::size_t p = 0; p < organ_.pistons.size(); ++p) {
      if (organ_.pistons[p].division == division) press_and(p, state, division + 1);
    }
  }

  void finish(const Moves& left) {
    std::vector<Movement> way;
    for (const std::size_t piston : chosen_) way.push_back(press(organ_, piston, player_));
    add_knobs(console_, left, player_, way);
    if (known_ && !(cost(way) < cost(best_))) return;
    best_ = std::move(way);
    known_ = true;
  }

  static std::tuple<std::size_t, std::size_t, double> cost(const std::vector<Movement>& way) {
    const HandWork work{way, {}};
    return {way.size(), work.by_hand(), work.seconds()};
  }

  const ConsoleMap& console_;
  const organ::Organ& organ_;
  const Registration& after_;
  const PlayerTimes& player_;
  std::vector<std::size_t> chosen_;
  std::vector<Movement> best_;
  bool known_ = false;
};

Moves swells_between(const Registration& before, const Registration& after) {
  Moves swells;
  for (std::size_t d = 0; d < std::min(before.swell.size(), after.swell.size()); ++d) {
    if (before.swell[d] == after.swell[d]) continue;
    swells.push_back({ConsoleMove::What::swell, d, after.swell[d]});
  }
  if (before.crescendo != after.crescendo)
    swells.push_back({ConsoleMove::What::crescendo, 0, static_cast<double>(after.crescendo)});
  return swells;
}

std::vector<std::size_t> mixed(const std::vector<std::size_t>& before,
                               const std::vector<std::size_t>& after,
                               const std::vector<bool>& from_after) {
  std::vector<std::size_t> all;
  for (const std::size_t index : before) {
    if (!from_after[index]) all.push_back(index);
  }
  for (const std::size_t index : after) {
    if (from_after[index]) all.push_back(index);
  }
  std::sort(all.begin(), all.end());
  return all;
}

}  // namespace

Hand Movement::hand() const {
  if (is_piston()) return Hand::none;
  if (side == Side::left) return Hand::left;
  return side == Side::right ? Hand::right : Hand::either;
}

std::size_t HandWork::by_hand() const {
  return static_cast<std::size_t>(
      std::count_if(movements.begin(), movements.end(),
                    [](const Movement& movement) { return movement.hand() != Hand::none; }));
}

bool HandWork::places_known() const {
  return std::all_of(movements.begin(), movements.end(),
                     [](const Movement& movement) { return movement.places_known; });
}

double HandWork::seconds() const {
  double sum = 0;
  for (const Movement& movement : movements) sum += movement.seconds();
  return sum;
}

Moves controls_between(const Registration& before, const Registration& after) {
  Moves moves;
  add_differences(before.stops, after.stops, ConsoleMove::What::stop, moves);
  add_differences(before.couplers, after.couplers, ConsoleMove::What::coupler, moves);
  add_differences(before.tremulants, after.tremulants, ConsoleMove::What::tremulant, moves);
  return moves;
}

Movement piston_work(const ConsoleMap& console, std::size_t piston, const PlayerTimes& player) {
  return press(*console.organ, piston, player);
}

HandWork knob_work(const ConsoleMap& console, const Registration& before, const Registration& after,
                   const PlayerTimes& player) {
  HandWork work;
  add_knobs(console, controls_between(before, after), player, work.movements);
  work.swells = swells_between(before, after);
  return work;
}

HandWork hand_work(const ConsoleMap& console, const Registration& before, const Registration& after,
                   const PlayerTimes& player) {
  return {Search(console, after, player).from(before), swells_between(before, after)};
}

Registration prepared(const organ::Organ& organ, const Registration& before,
                      const Registration& after, const std::vector<bool>& sounds) {
  std::vector<bool> stops(organ.stops.size());
  std::vector<bool> tremulants(organ.tremulants.size());
  for (std::size_t s = 0; s < stops.size(); ++s) stops[s] = !sounds[organ.stops[s].division];
  for (std::size_t t = 0; t < tremulants.size(); ++t) {
    tremulants[t] = !sounds[organ.tremulants[t].division];
  }
  Registration ready = before;
  ready.stops = mixed(before.stops, after.stops, stops);
  ready.tremulants = mixed(before.tremulants, after.tremulants, tremulants);
  return ready;
}

}  // namespace loftbeat::advise
