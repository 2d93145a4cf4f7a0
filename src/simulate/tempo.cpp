#include "simulate/tempo.h"

#include <algorithm>
#include <cmath>

#include "simulate/places.h"

namespace loftbeat::simulate {

namespace {
constexpr double kTwoPi = 6.283185307179586;
constexpr double kSlowingBeats = 4;
constexpr double kSlowest = 0.05;  // of the set tempo, whatever is asked for
}  // namespace

double set_tempo_bpm(const Piece& piece) {
  if (piece.plan.tempo_bpm > 0) return piece.plan.tempo_bpm;
  if (piece.score.tempi.empty()) return 72;
  return piece.score.tempi.front().quarters_per_minute / quarters(plan::ticks(piece.plan.beat));
}

Wander::Wander(double percent, std::uint64_t seed) : percent_(percent) {
  Random random(seed, "wander");
  long_beats_ = random.between(26, 40);
  short_beats_ = random.between(16, 24);
  long_phase_ = random.uniform();
  short_phase_ = random.uniform();
}

double Wander::factor(double beats) const {
  const double wave = 0.6 * std::sin(kTwoPi * (beats / long_beats_ + long_phase_)) +
                      0.4 * std::sin(kTwoPi * (beats / short_beats_ + short_phase_));
  return 1 + percent_ / 100 * wave;
}

Timekeeper::Timekeeper(const Piece& piece, const Player& player, std::uint64_t seed)
    : piece_(piece),
      player_(player),
      wander_(player.tempo.wander_percent, seed),
      breaths_(seed, "breaths"),
      joins_(seed, "joins"),
      beat_(plan::ticks(piece.plan.beat)),
      set_beat_s_(60.0 / set_tempo_bpm(piece)),
      phrases_(phrases_of(piece)),
      onsets_(onset_ticks(piece.score)) {}

double Timekeeper::plain_beat_seconds(const Act& act, double progress) const {
  const double drag = 1 - act.drag_percent / 100 * progress;
  const double factor = act.tempo_factor * wander_.factor(beats_) * drag;
  return set_beat_s_ / std::max(kSlowest, factor);
}

double Timekeeper::phrase_factor(Tick tick) const {
  if (player_.tempo.rubato_percent == 0) return 1;
  for (const TickSpan& phrase : phrases_) {
    if (!phrase.contains(tick)) continue;
    const double place =
        static_cast<double>(tick - phrase.begin) / static_cast<double>(phrase.length());
    return 1 - player_.tempo.rubato_percent / 100 * std::cos(kTwoPi * place);
  }
  return 1;
}

namespace {

double progress_of(const Act& act, Tick tick) {
  const TickSpan& last = act.legs.back().span;
  const Tick begin = act.legs.front().span.begin;
  const Tick end = std::max(last.end, begin + 1);
  const double share = static_cast<double>(tick - begin) / static_cast<double>(end - begin);
  return std::clamp(share, 0.0, 1.0);
}

// A straight fall of the tempo from 1 at `from` to `to` at one beat before the end.
double falling(Tick tick, Tick from, Tick end, double to) {
  if (tick <= from || end <= from) return 1;
  const double share = static_cast<double>(tick - from) / static_cast<double>(end - from);
  return 1 - (1 - to) * std::min(1.0, share);
}

}  // namespace

double Timekeeper::beat_seconds(const Act& act, Tick tick) const {
  const Tick end = act.legs.back().span.end;
  double factor = phrase_factor(tick);
  if (act.broaden_from) {
    factor *= falling(tick, *act.broaden_from, end - beat_, act.broaden_percent / 100);
  }
  if (act.slowing_percent != 0) {
    const Tick last = std::prev(std::lower_bound(onsets_.begin(), onsets_.end(), end))[0];
    const Tick from = last - static_cast<Tick>(kSlowingBeats * static_cast<double>(beat_));
    factor *= falling(tick, from, last, 1 - act.slowing_percent / 100);
  }
  return plain_beat_seconds(act, progress_of(act, tick)) / std::max(kSlowest, factor);
}

void Timekeeper::add_holds(const Act& act, TickSpan span, Tick limit, std::vector<Loss>& found) {
  const double beat_s = set_beat_s_ / act.tempo_factor;
  for (const plan::PlannedHold& hold : piece_.route.holds) {
    if (hold.until <= span.begin || hold.until >= limit) continue;
    const double beats = hold.kind == plan::FermataKind::hold   ? hold.extra_beats
                         : hold.kind == plan::FermataKind::free ? player_.phrase.free_fermata_beats
                                                                : 0;
    if (beats > 0) found.push_back({hold.until, beats * beat_s, false});
  }
}

void Timekeeper::add_breaths(TickSpan span, Tick limit, std::vector<Loss>& found) {
  if (player_.phrase.breath != BreathKind::added) return;
  for (const TickSpan& phrase : phrases_) {
    const Tick at = phrase.end;
    const double beats =
        player_.phrase.breath_beats + breaths_.human(player_.phrase.breath_jitter_beats);
    const bool held =
        std::any_of(found.begin(), found.end(), [&](const Loss& loss) { return loss.tick == at; });
    if (at > span.begin && at < limit && !held) {
      found.push_back({at, std::max(0.0, beats) * set_beat_s_, true});
    }
  }
}

std::vector<Timekeeper::Loss> Timekeeper::losses(const Act& act, std::size_t leg) {
  const TickSpan span = act.legs[leg].span;
  std::vector<Loss> found;
  // At the seam of two phrases that do not follow each other in the tune one breathes as well; the
  // end of the pass belongs to the join, and where one breaks off there is a pause anyway.
  const bool last_leg = leg + 1 == act.legs.size();
  const bool seam = !last_leg && !act.legs[leg + 1].goes_back;
  const Tick limit = seam ? span.end + 1 : span.end;
  add_holds(act, span, limit, found);
  add_breaths(span, limit, found);
  if (leg == 0 && player_.phrase.gather_beats != 0) {
    const music::Bar& bar = music::bar_at(piece_.score, span.begin);
    const Tick first_full = bar.start + bar.length;
    if ((bar.start < span.begin || bar.pickup) && first_full < span.end) {
      found.push_back({first_full, player_.phrase.gather_beats * set_beat_s_, false});
    }
  }
  for (const ActDelay& delay : act.delays) {
    if (last_leg && delay.tick > span.begin && delay.tick < span.end) {
      found.push_back({delay.tick, delay.beats * set_beat_s_ + delay.seconds, delay.keys_up});
    }
  }
  for (const ActCorrection& correction : act.corrections) {
    if (last_leg && span.contains(correction.tick) && correction.cost_beats > 0) {
      found.push_back({correction.next, correction.cost_beats * set_beat_s_, false});
    }
  }
  std::stable_sort(found.begin(), found.end(),
                   [](const Loss& a, const Loss& b) { return a.tick < b.tick; });
  return found;
}

TimeMap Timekeeper::lay_leg(const Act& act, std::size_t leg, double start_s) {
  const TickSpan span = act.legs[leg].span;
  const std::vector<Loss> lost = losses(act, leg);
  TimeMap map;
  map.push({span.begin, start_s, start_s, start_s});
  double now = start_s;
  auto loss = lost.begin();
  for (Tick tick = span.begin; tick < span.end;) {
    Tick next = std::min(tick + beat_ / 4, span.end);
    if (loss != lost.end()) next = std::min(next, loss->tick);
    const double beats = static_cast<double>(next - tick) / static_cast<double>(beat_);
    now += beats * beat_seconds(act, tick + (next - tick) / 2);
    beats_ += beats;
    TimeMap::Knot knot{next, now, now, now};
    for (; loss != lost.end() && loss->tick <= next; ++loss) {
      now += loss->seconds;
      if (!loss->silent) knot.sound_end += loss->seconds;
    }
    knot.onset = now;
    map.push(knot);
    tick = next;
  }
  leg_clock_s_ = now;
  return map;
}

void Timekeeper::lay_improvised(const Act& act, ActTimes& times) {
  TimeMap map;
  const Tick quarter_beat = beat_ / 4;
  double now = times.start_s;
  const auto steps = static_cast<Tick>(act.improvised_beats * 4);
  map.push({0, now, now, now});
  for (Tick step = 0; step < steps; ++step) {
    if (step % 4 == 0) times.last_onset_s = now;
    now += plain_beat_seconds(act, 0) / 4;
    beats_ += 0.25;
    map.push({(step + 1) * quarter_beat, now, now, now});
  }
  times.legs.push_back(std::move(map));
}

ActTimes Timekeeper::lay(const Act& act, double start_s) {
  ActTimes times;
  times.start_s = start_s;
  const double beats_before = beats_;
  if (act.improvised_beats > 0) lay_improvised(act, times);
  double begin = start_s;
  for (std::size_t leg = 0; leg < act.legs.size(); ++leg) {
    begin += act.legs[leg].pause_beats * set_beat_s_;
    times.legs.push_back(lay_leg(act, leg, begin));
    begin = leg_clock_s_;
  }
  if (!act.legs.empty()) {
    const TickSpan last = act.legs.back().span;
    const auto after = std::lower_bound(onsets_.begin(), onsets_.end(), last.end);
    const Tick tick = after == onsets_.begin() ? last.begin : *std::prev(after);
    times.last_onset_s = times.legs.back().onset(std::max(tick, last.begin));
  }
  times.beats = beats_ - beats_before;
  times.end_beat_s = plain_beat_seconds(act, act.legs.empty() ? 0 : 1);
  times.mean_bpm = 60 / set_beat_s_ * act.tempo_factor * (1 - act.drag_percent / 200);
  return times;
}

double Timekeeper::next_start(const Act& act, const ActTimes& times) {
  if (act.improvised_beats > 0) {
    return times.start_s + act.improvised_beats * times.end_beat_s + act.after.extra_s;
  }
  const Gap& gap = act.after;
  const double human = joins_.human(player_.join.jitter_percent / 100);
  const double beats = gap.span_beats * (1 + human) + gap.count_slip + gap.phase_slip;
  beats_ += beats;
  return times.last_onset_s + std::max(0.2, beats) * times.end_beat_s + gap.extra_s;
}

}  // namespace loftbeat::simulate
