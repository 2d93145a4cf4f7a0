#include "follow/live_follower.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <deque>
#include <utility>

#include "follow/heard.h"
#include "follow/lattice.h"

namespace loftbeat::follow {
namespace {

constexpr Nanoseconds kSameMoment{50'000'000};

double speed_of(double quarters_per_minute) {
  return 60e9 / quarters_per_minute / static_cast<double>(kTicksPerQuarter);
}

// As written first, then the keys that the route plans.
std::vector<int> planned_layers(const plan::Route& route) {
  std::vector<int> layers = {0};
  for (const plan::RoutePass& pass : route.passes) {
    if (std::find(layers.begin(), layers.end(), pass.transpose_semitones) == layers.end())
      layers.push_back(pass.transpose_semitones);
  }
  return layers;
}

// The route's passes in which the tune is played, by their place in the route.
std::vector<int> played_passes(const plan::Route& route) {
  std::vector<int> played;
  for (std::size_t i = 0; i < route.passes.size(); ++i) {
    if (!route.passes[i].unaccompanied && !route.passes[i].spans.empty())
      played.push_back(static_cast<int>(i));
  }
  return played;
}

}  // namespace

// The notes of the last 50 ms are kept apart: whether one of them is the highest of its moment may
// still change. `settled` is the column before them, `current` the one after them.
struct LiveFollower::State {
  State(const music::Score& score, const plan::Route& route, double quarters_per_minute)
      : table(score, route.phrases.empty() ? score.phrases : route.phrases),
        lattice(table, {planned_layers(route), planned_links(table, route),
                        speed_of(quarters_per_minute)}),
        closes_run(closing_silence(score, route, speed_of(quarters_per_minute))),
        played(played_passes(route)),
        codes(lattice.states()) {
    for (Column* column : {&settled, &current, &spare}) {
      column->cells.resize(lattice.states());
      column->active.reserve(lattice.states());
    }
  }

  // Goes one note further, from one column to another; both stand.
  void step(bool has_begun, const Column& from, const Heard& note, Column& to) {
    Trace trace{std::span(codes), 0};
    if (has_begun) {
      lattice.step(from, note, to, trace);
    } else {
      lattice.begin(note, to, trace);
    }
  }

  // Notes that no later one can change any more become part of `settled`.
  void settle(Instant now) {
    while (!moment.empty() && now - moment.front().at > kSameMoment) {
      step(settled_begun, settled, moment.front(), spare);
      std::swap(settled, spare);
      settled_begun = true;
      before.push_back(moment.front());
      moment.pop_front();
    }
    while (!before.empty() && now - before.front().at > kSameMoment) before.pop_front();
  }

  [[nodiscard]] bool is_top(const Heard& note) const {
    const auto higher = [&](const Heard& other) {
      return other.pitch > note.pitch && note.at - other.at <= kSameMoment;
    };
    return std::none_of(before.begin(), before.end(), higher) &&
           std::none_of(moment.begin(), moment.end(), higher);
  }

  // A higher note takes from the earlier ones that they were on top. True if any was.
  [[nodiscard]] bool takes_top(const Heard& note) {
    bool taken = false;
    for (Heard& earlier : moment) {
      taken = taken || (earlier.top && earlier.pitch < note.pitch);
      earlier.top = earlier.top && earlier.pitch >= note.pitch;
    }
    return taken;
  }

  void walk_again() {
    bool has_begun = settled_begun;
    const Column* from = &settled;
    for (const Heard& note : moment) {
      Column& to = from == &current ? spare : current;
      step(has_begun, *from, note, to);
      has_begun = true;
      from = &to;
    }
    if (from == &spare) std::swap(current, spare);
  }

  OnsetTable table;
  Lattice lattice;
  Nanoseconds closes_run;
  std::vector<int> played;
  std::vector<std::uint8_t> codes;
  Column settled;
  Column current;
  Column spare;
  bool settled_begun = false;
  bool begun = false;
  std::deque<Heard> before;  // settled, and within 50 ms of what is not
  std::deque<Heard> moment;
  Instant last_on;
  Instant last_off;
  std::array<bool, 128> down{};
  int keys_down = 0;
};

LiveFollower::LiveFollower(const music::Score& score, const plan::Route& route,
                           double set_quarters_per_minute)
    : state_(std::make_unique<State>(score, route, set_quarters_per_minute)) {}
LiveFollower::~LiveFollower() = default;

void LiveFollower::note_on(Instant at, int pitch) {
  State& s = *state_;
  Heard note;
  note.at = at;
  note.pitch = std::clamp(pitch, 0, 127);
  note.gap = s.begun ? at - s.last_on : Nanoseconds{0};
  note.after_silence = s.begun && s.keys_down == 0 && at - s.last_off > s.closes_run;
  const std::size_t pending = s.moment.size();
  s.settle(at);
  note.top = s.is_top(note);
  const bool again = s.takes_top(note) || s.moment.size() != pending;
  s.moment.push_back(note);
  if (again || !s.begun) {
    s.walk_again();
  } else {
    s.step(true, s.current, note, s.spare);
    std::swap(s.current, s.spare);
  }
  s.begun = true;
  s.last_on = at;
  if (!std::exchange(s.down[static_cast<std::size_t>(note.pitch)], true)) ++s.keys_down;
}

void LiveFollower::note_off(Instant at, int pitch) {
  State& s = *state_;
  const auto key = static_cast<std::size_t>(std::clamp(pitch, 0, 127));
  if (std::exchange(s.down[key], false)) --s.keys_down;
  s.last_off = at;
}

LivePosition LiveFollower::position(Instant now) const {
  const State& s = *state_;
  LivePosition position;
  if (!s.begun) return position;
  const std::uint32_t best = s.current.best;
  const Cell& cell = s.current.cells[best];
  position.ns_per_tick = cell.ns_per_tick;
  position.passes_begun = cell.pass + 1;
  if (cell.pass >= 0 && static_cast<std::size_t>(cell.pass) < s.played.size())
    position.route_pass = s.played[static_cast<std::size_t>(cell.pass)];
  if (best == s.lattice.outside()) return position;
  const int onset = s.lattice.onset_of(best);
  position.in_tune = true;
  position.onset = s.table[onset].tick;
  const auto gone = static_cast<double>((now - cell.entry).count()) / cell.ns_per_tick;
  // Waits at the next onset until it is struck.
  position.tick =
      std::min(position.onset + static_cast<Tick>(std::max(gone, 0.0)), s.table.end_of(onset));
  double second = -1e9;
  for (const std::uint32_t state : s.current.active) {
    if (state != best && std::abs(s.lattice.onset_of(state) - onset) > 1)
      second = std::max(second, s.current.cells[state].score - cell.score);
  }
  position.unsure = std::exp(second);
  return position;
}

}  // namespace loftbeat::follow
