#include "follow/lattice.h"

#include <algorithm>
#include <bit>
#include <cmath>

#include "follow/model_costs.h"

namespace loftbeat::follow {
namespace {

constexpr double kNone = -std::numeric_limits<double>::infinity();
constexpr std::uint16_t kAll = 0xFFFF;
constexpr Nanoseconds kLoneNote{100'000'000};
constexpr Nanoseconds kNewStroke{250'000'000};

// How badly `waited` fits `expected` (both seconds). Coming too soon is dearer than lingering:
// players pause, but nobody gets through four beats in the time of one.
double timing_cost(double waited, double expected, double late_limit = cost::kTooLateLimit) {
  const double slack = cost::kTimingSlackS + cost::kTimingSlackShare * expected;
  const double z = (waited - expected) / slack;
  const double limit = z < 0 ? cost::kTooSoonLimit : late_limit;
  return std::min(0.5 * z * z, limit);
}

// People breathe where a phrase begins: coming late there says little.
double late_limit(const Onset& onset) {
  return onset.phrase_start ? cost::kBreathLimit : cost::kTooLateLimit;
}

// A gap within a chord beyond what spreading it takes. It is paid once for each gap, not for
// each note, or three notes struck together late would be paid for three times.
double staying_cost(double gap) {
  if (gap <= cost::kChordSpreadS) return 0;
  return std::min((gap - cost::kChordSpreadS) / cost::kStayPerS, cost::kStayLimit);
}

double faster_of(double old_speed, double now_speed, double weight) {
  const double held = std::clamp(now_speed, old_speed * 0.6, old_speed / 0.6);
  return old_speed + weight * (held - old_speed);
}

}  // namespace

// Collects the ways into the next column.
struct Lattice::Reach {
  Column& to;
  Trace& trace;

  // Offers a way; the better one stays. Ties keep the first, so that runs are bit-identical.
  void offer(std::uint32_t state, double score, std::uint8_t code, const Cell& carried) {
    Cell& cell = to.cells[state];
    if (trace.codes[state] == step_code::kNone) {
      to.active.push_back(state);
    } else if (score <= cell.score) {
      return;
    }
    cell = carried;
    cell.score = score;
    trace.codes[state] = code;
  }
};

Lattice::Lattice(const OnsetTable& table, Setting setting)
    : table_(table),
      setting_(std::move(setting)),
      width_(static_cast<std::size_t>(table.size())),
      outside_(width_ * setting_.layers.size()) {
  if (setting_.links.size() > step_code::kMaxLinks) setting_.links.resize(step_code::kMaxLinks);
  for (int k = 0; k < table_.size(); ++k) {
    const Onset& onset = table_[k];
    const double whole = cost::kSkip + cost::kSkipPerNote * static_cast<double>(onset.count);
    skip_cost_.push_back(onset.tune ? std::min(cost::kSkipLimit, whole) : cost::kSkipInner);
    double jump = 0;
    if (k == 0) {
      jump = cost::kJumpToStart;
    } else if (onset.phrase_start) {
      jump = cost::kJumpToPhrase;
    } else if (onset.bar_start) {
      jump = cost::kJumpToBar;
    } else if (onset.on_beat) {
      jump = cost::kJumpToBeat;
    } else {
      continue;
    }
    jump_targets_.push_back({static_cast<std::uint32_t>(k), jump});
  }
}

void Lattice::prepare(Column& to, Trace& trace) const {
  to.cells.resize(states());
  for (std::uint32_t state : to.active) to.cells[state].score = kNone;
  to.active.clear();
  std::fill(trace.codes.begin(), trace.codes.end(), step_code::kNone);
}

void Lattice::begin(const Heard& note, Column& to, Trace& trace) const {
  prepare(to, trace);
  Reach reach{to, trace};
  const Cell fresh{0, note.at, setting_.ns_per_tick, 0, kAll, 0, outside()};
  for (std::size_t layer = 0; layer < setting_.layers.size(); ++layer) {
    const double change = layer == 0 ? 0 : cost::kChangeLayer;
    for (const JumpTarget& target : jump_targets_) {
      const auto state = static_cast<std::uint32_t>(layer * width_ + target.onset);
      const double cost = (target.onset == 0 ? 0 : target.cost) + change;
      reach.offer(state, -cost, step_code::kJump, fresh);
    }
  }
  reach.offer(outside(), -cost::kGoOutside / 2, step_code::kFromOutside, fresh);
  trace.jump_from = outside();
  hear(note, to);
  finish(to);
}

void Lattice::step(const Column& from, const Heard& note, Column& to, Trace& trace) const {
  prepare(to, trace);
  trace.jump_from = from.best;
  Reach reach{to, trace};
  for (std::uint32_t state : from.active) {
    if (state != outside()) go_on(from, state, note, reach);
  }
  follow_links(from, note, reach);
  outside(from, note, reach);
  jump(from, note, reach);
  hear(note, to);
  finish(to);
}

// Another note of the same chord, or the chord struck once more.
void Lattice::stay(const Cell& cell, std::uint32_t state, const Heard& note, Reach& reach) const {
  const int k = onset_of(state);
  Cell here = cell;
  double cost = staying_cost(seconds(note.gap));
  const bool mostly_struck = 2 * std::popcount(cell.struck) >= static_cast<int>(table_[k].count);
  if (note.gap > kNewStroke && mostly_struck &&
      table_.sound(k, written_pitch(state, note)) >= Sound::octave) {
    const std::uint16_t bits = table_.bits(k, written_pitch(state, note));
    const bool still_missing = bits != 0 && (cell.struck & bits) == 0;
    cost = still_missing ? cost::kLateInChord : cost::kStrikeAgain;
    here.entry = note.at;
    here.struck = 0;
  } else if (note.gap > kLoneNote && !mostly_struck) {
    // A lone note well before the rest of its chord does not say when the chord was struck.
    here.entry = note.at;
  }
  reach.offer(state, cell.score - cost, step_code::kStay, here);
}

void Lattice::go_on(const Column& from, std::uint32_t state, const Heard& note,
                    Reach& reach) const {
  const Cell& cell = from.cells[state];
  const int k = onset_of(state);
  const double waited = seconds(note.at - cell.entry);
  stay(cell, state, note, reach);

  double skipped = 0;
  const int last = std::min(table_.size() - 1, k + step_code::kMaxAdvance);
  for (int next = k + 1; next <= last; ++next) {
    const Tick distance = table_[next].tick - table_[k].tick;
    const double expected = static_cast<double>(distance) * cell.ns_per_tick * 1e-9;
    Cell carried = cell;
    carried.entry = note.at;
    carried.struck_before = next == k + 1 ? cell.struck : kAll;
    carried.struck = 0;
    const double quarters_gone = quarters(distance);
    const double weight = cost::kSpeedGain * std::min(1.0, 2 * quarters_gone);
    carried.ns_per_tick =
        faster_of(cell.ns_per_tick, waited * 1e9 / static_cast<double>(distance), weight);
    reach.offer(state + static_cast<std::uint32_t>(next - k),
                cell.score - skipped - timing_cost(waited, expected, late_limit(table_[next])),
                static_cast<std::uint8_t>(step_code::kAdvance + (next - k)), carried);
    skipped += skip_cost_[static_cast<std::size_t>(next)];
    // Going further would be given up at once, whatever note this is.
    if (cell.score - skipped < -cost::kBeam) break;
  }
  if (k > 0 && waited <= cost::kInterleaveS) {
    Cell carried = cell;
    const auto gap = static_cast<double>(table_[k].tick - table_[k - 1].tick);
    carried.struck = cell.struck_before;
    carried.struck_before = kAll;
    carried.entry = cell.entry - Nanoseconds(static_cast<std::int64_t>(gap * cell.ns_per_tick));
    reach.offer(state - 1, cell.score - cost::kInterleave, step_code::kBack, carried);
  }
}

// A last chord may be cut short for the breath, but not to less than half.
double Lattice::leaving_cost(const Cell& cell, int onset, const Heard& note) const {
  const auto written = static_cast<double>(table_.end_of(onset) - table_[onset].tick);
  const double least = 0.5 * written * cell.ns_per_tick * 1e-9;
  const double waited = seconds(note.at - cell.entry);
  return waited < least ? timing_cost(waited, least) : 0;
}

void Lattice::follow_links(const Column& from, const Heard& note, Reach& reach) const {
  for (std::size_t i = 0; i < setting_.links.size(); ++i) {
    for (int before_end = 0; before_end < 2; ++before_end) {
      for (std::size_t layer = 0; layer < setting_.layers.size(); ++layer) {
        follow_link({i, before_end, layer}, from, note, reach);
      }
    }
  }
}

void Lattice::follow_link(const LinkWay& way, const Column& from, const Heard& note,
                          Reach& reach) const {
  const Link& link = setting_.links[way.link];
  const int source = link.from - way.before_end;
  if (source < 0) return;
  const std::size_t base = way.layer * width_;
  const Cell& cell = from.cells[base + static_cast<std::size_t>(source)];
  if (cell.score == kNone) return;
  Cell carried = cell;
  carried.entry = note.at;
  carried.struck = 0;
  const bool in_place = link.pass < 0 || link.pass == cell.pass;
  if (link.ends_pass) ++carried.pass;
  const double skipped =
      way.before_end == 0 ? 0 : skip_cost_[static_cast<std::size_t>(link.from)] + cost::kSkip;
  const double cost = in_place ? cost::kLink : cost::kLinkElsewhere;
  const std::size_t code =
      step_code::kLink + 2 * way.link + static_cast<std::size_t>(way.before_end);
  reach.offer(static_cast<std::uint32_t>(base + static_cast<std::size_t>(link.to)),
              cell.score - cost - skipped - leaving_cost(cell, source, note),
              static_cast<std::uint8_t>(code), carried);
}

void Lattice::outside(const Column& from, const Heard& note, Reach& reach) const {
  const Cell& stay = from.cells[outside()];
  Cell carried = stay;
  carried.entry = note.at;
  reach.offer(outside(), stay.score - cost::kStayOutside, step_code::kFromOutside, carried);
  const Cell& best = from.cells[from.best];
  carried = best;
  carried.entry = note.at;
  carried.struck = 0;
  carried.left = from.best;
  if (from.best != outside()) {
    reach.offer(outside(), best.score - cost::kGoOutside, step_code::kJump, carried);
  }
  resume(stay, note, reach);
}

// Back into the tune where it was left, or a little further on.
void Lattice::resume(const Cell& away, const Heard& note, Reach& reach) const {
  if (away.left >= outside()) return;
  Cell carried = away;
  carried.entry = note.at;
  carried.struck = 0;
  const int k = onset_of(away.left);
  const int last = std::min(table_.size() - 1, k + step_code::kMaxAdvance);
  for (int next = k; next <= last; ++next) {
    const double ahead = cost::kResumeAhead * static_cast<double>(std::max(0, next - k - 1));
    reach.offer(away.left + static_cast<std::uint32_t>(next - k),
                away.score - cost::kResume - ahead, step_code::kFromOutside, carried);
  }
}

// Whether the note comes plainly later than the best state would have it: a sign of beginning
// again.
bool Lattice::hesitated(const Column& from, const Heard& note) const {
  if (from.best == outside()) return false;
  const int k = onset_of(from.best);
  if (k + 1 >= table_.size()) return false;
  const Cell& cell = from.cells[from.best];
  const auto written = static_cast<double>(table_[k + 1].tick - table_[k].tick);
  const double expected = written * cell.ns_per_tick * 1e-9;
  return seconds(note.at - cell.entry) > 1.4 * expected + 0.15;
}

void Lattice::jump(const Column& from, const Heard& note, Reach& reach) const {
  const double ease = note.after_silence      ? cost::kEaseAfterSilence
                      : hesitated(from, note) ? cost::kEaseAfterHesitation
                                              : 1.0;
  const Cell& best = from.cells[from.best];
  const Cell& away = from.cells[outside()];
  const int best_layer = from.best == outside() ? 0 : layer_of(from.best);
  for (std::size_t layer = 0; layer < setting_.layers.size(); ++layer) {
    const double change = static_cast<int>(layer) == best_layer ? 0 : cost::kChangeLayer;
    for (const JumpTarget& target : jump_targets_) {
      const auto state = static_cast<std::uint32_t>(layer * width_ + target.onset);
      const double cost = target.cost * ease + change;
      Cell carried = best;
      carried.entry = note.at;
      carried.struck = 0;
      if (note.after_silence) carried.pass = 0;
      reach.offer(state, best.score - cost, step_code::kJump, carried);
      carried.ns_per_tick = away.ns_per_tick;
      reach.offer(state, away.score - cost * cost::kEaseFromOutside, step_code::kFromOutside,
                  carried);
    }
  }
}

double Lattice::emission(const Cell& cell, std::uint32_t state, const Heard& note,
                         std::uint16_t& bits) const {
  const int k = onset_of(state);
  const int pitch = written_pitch(state, note);
  const Sound sound = table_.sound(k, pitch);
  const double gain = note.top ? cost::kTopNote[static_cast<std::size_t>(sound)]
                               : cost::kInnerNote[static_cast<std::size_t>(sound)];
  if (sound != Sound::chord && sound != Sound::tune) return gain;
  bits = table_.bits(k, pitch);
  const bool again = bits != 0 && (cell.struck & bits) == bits;
  return again ? cost::kStruckAgain : gain;
}

void Lattice::hear(const Heard& note, Column& to) const {
  for (std::uint32_t state : to.active) {
    if (state == outside()) continue;
    Cell& cell = to.cells[state];
    std::uint16_t bits = 0;
    cell.score += emission(cell, state, note, bits);
    cell.struck = static_cast<std::uint16_t>(cell.struck | bits);
  }
}

// Drops hopeless states, and takes the best score off all, so that sums stay small.
void Lattice::finish(Column& to) const {
  double best = kNone;
  for (std::uint32_t state : to.active) {
    if (to.cells[state].score > best) {
      best = to.cells[state].score;
      to.best = state;
    }
  }
  std::size_t kept = 0;
  for (std::uint32_t state : to.active) {
    Cell& cell = to.cells[state];
    cell.score -= best;
    if (cell.score >= -cost::kBeam || state == outside()) {
      to.active[kept++] = state;
    } else {
      cell.score = kNone;
    }
  }
  to.active.resize(kept);
}

std::uint32_t Lattice::before(std::uint32_t state, const Trace& trace) const {
  const std::uint8_t code = trace.codes[state];
  if (code == step_code::kFromOutside) return outside();
  if (code == step_code::kJump) return trace.jump_from;
  if (code == step_code::kBack) return state + 1;
  if (code >= step_code::kLink) {
    const auto link = static_cast<std::size_t>((code - step_code::kLink) / 2);
    const auto base = static_cast<std::uint32_t>(state / width_ * width_);
    const int source = setting_.links[link].from - (code - step_code::kLink) % 2;
    return base + static_cast<std::uint32_t>(source);
  }
  return state - static_cast<std::uint32_t>(code - step_code::kAdvance);
}

}  // namespace loftbeat::follow
