#include "crowd/people.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

namespace loftbeat::crowd {
namespace {

constexpr double kNever = std::numeric_limits<double>::infinity();
// What the follower says of an onset may change so long (live_follower.h).
constexpr double kRevisedSeconds = 0.05;
constexpr double kOnKnot = 0.02;  // beats
constexpr double kBreathShare = 0.4;
// After a hold people are watching for the organ: quicker than at a join.
constexpr double kAfterHoldShare = 0.5;
constexpr double kKnownJoinShare = 0.4;
constexpr double kSurpriseBeats = 0.5;
constexpr double kLearnt = 0.5;      // of the difference, at each phrase end
constexpr double kMostBreath = 1.0;  // beats
constexpr double kTempoShare = 0.3;  // of each new beat in the organ's tempo

}  // namespace

People::People(const music::Score& score, const plan::Route& route, plan::BeatUnit beat,
               const Manners& manners, std::uint64_t seed)
    : score_(score),
      route_(route),
      beat_(beat),
      manners_(manners),
      chance_(seed),
      way_s_(manners.metres * kSecondsPerMetre) {
  beats_.reserve(1024);
  events_.reserve(64);
}

void People::advance(Instant now, const follow::LivePosition& player) {
  const double now_s = std::max(seconds(now), now_s_);
  notice(seconds(now), player);
  while (!coming_.empty() &&
         coming_.front().struck_s + std::max(way_s_, kRevisedSeconds) <= now_s) {
    const Heard heard = coming_.front();
    coming_.pop_front();
    run_until(heard.struck_s + std::max(way_s_, kRevisedSeconds));
    hear(heard);
  }
  run_until(now_s);
}

// A struck onset, new or told otherwise than a moment ago.
void People::notice(double now_s, const follow::LivePosition& player) {
  if (!player.in_tune || player.passes_begun <= 0) return;
  if (any_ && player.passes_begun == last_.pass && player.onset == last_.onset) return;
  Heard heard;
  heard.pass = player.passes_begun;
  heard.route_pass = player.route_pass;
  heard.onset = player.onset;
  heard.ns_per_tick = player.ns_per_tick;
  heard.struck_s =
      now_s - static_cast<double>(player.tick - player.onset) * player.ns_per_tick * 1e-9;
  if (any_) heard.struck_s = std::max(heard.struck_s, last_.struck_s);
  if (!coming_.empty() && heard.struck_s - coming_.back().struck_s <= kRevisedSeconds) {
    heard.struck_s = coming_.back().struck_s;
    coming_.pop_back();
  }
  coming_.push_back(heard);
  last_ = heard;
  any_ = true;
}

bool People::sings(const Heard& heard) const {
  if (heard.route_pass < 0) return heard.pass > 1 || route_.play_over_known;
  const auto index = static_cast<std::size_t>(heard.route_pass);
  if (index >= route_.passes.size()) return true;
  return route_.passes[index].kind == plan::PassKind::verse && !route_.passes[index].unaccompanied;
}

double People::phase_gain() const {
  return manners_.phase_gain_weak +
         (manners_.phase_gain_firm - manners_.phase_gain_weak) * firmness_.value();
}

std::optional<std::size_t> People::knot_at(double place) const {
  for (std::size_t i = 0; i < laid_.knots.size(); ++i)
    if (std::abs(laid_.knots[i].at - place) < kOnKnot) return i;
  return std::nullopt;
}

// The follower goes on in the play-over, past what the plan plays of it, in a line that is like the
// verse's first.
bool People::verse_taken_for_play_over(const Heard& heard) {
  const auto next = static_cast<std::size_t>(heard.route_pass) + 1;
  if (heard.route_pass < 0 || next >= route_.passes.size()) return false;
  const plan::RoutePass& verse = route_.passes[next];
  if (route_.passes[next - 1].kind != plan::PassKind::play_over || verse.spans.empty())
    return false;
  const Tick begin = verse.spans.front().begin;
  if (heard.onset == begin || !alike(score_, route_, heard.onset, begin)) return false;
  taken_for_ = heard.pass;
  taken_later_ = heard.onset - begin;
  return true;
}

void People::hear(Heard heard) {
  const bool beyond = heard.pass == pass_ && !laid_.place_of(heard.onset, 0);
  if (heard.pass == taken_for_ || (beyond && verse_taken_for_play_over(heard))) {
    ++heard.pass;
    ++heard.route_pass;
    heard.onset -= taken_later_;
  } else {
    taken_for_ = 0;
  }
  const double heard_s = heard.struck_s + way_s_;
  if (heard.pass != pass_) return begin_pass(heard);
  const auto place = laid_.place_of(heard.onset, heard_place_);
  if (!place) return;
  const double before = std::exchange(heard_place_, *place);
  heard_s_ = heard_s;
  const auto knot = knot_at(*place);
  if (together_ && std::abs(together_->place_at(heard_s) - *place) >= kFallOutBeats &&
      !(waiting_ && *place > before))
    fall_silent(std::max(heard_s, told_s_));
  if (together_) {
    if (waiting_) return go_on(*place, heard_s);
    if (knot) compare(*place, heard_s);
  } else if (sung_ && knot && laid_.knots[*knot].phrase) {
    enter(*knot, heard_s, heard.ns_per_tick * 1e-9 * static_cast<double>(laid_.beat_ticks),
          manners_.entry_s);
  } else if (knot) {
    compare(*place, heard_s);
  }
}

// Beats against beats; intervals across a breath, a hold or a going back are not the tempo.
void People::compare(double place, double heard_s) {
  const std::size_t knot = *knot_at(place);
  const bool broken = laid_.knots[knot].phrase || !knot_place_ || *knot_place_ >= place ||
                      std::any_of(laid_.hold_ends.begin(), laid_.hold_ends.end(), [&](double end) {
                        return end > *knot_place_ && end <= place + kOnKnot;
                      });
  if (broken) {
    if (laid_.knots[knot].phrase) learn_breath(place, heard_s);
    firmness_.broken();
    if (together_) together_->broken();
  } else {
    const double interval = (heard_s - knot_s_) / (place - *knot_place_);
    firmness_.interval(interval);
    heard_period_s_ += kTempoShare * (interval - heard_period_s_);
  }
  knot_place_ = place;
  knot_s_ = heard_s;
  if (together_) together_->hear(knot, heard_s, phase_gain(), told_s_);
}

// Not of a place gone back to, nor of a hold: what is added there is no breath.
void People::learn_breath(double place, double heard_s) {
  if (!knot_place_ || *knot_place_ >= place || heard_period_s_ <= 0) return;
  for (const double end : laid_.hold_ends)
    if (end > *knot_place_ && end <= place + kOnKnot) return;
  const double added = (heard_s - knot_s_) / heard_period_s_ - (place - *knot_place_);
  breath_beats_ += kLearnt * (std::clamp(added, 0.0, kMostBreath) - breath_beats_);
  if (!together_) return;
  for (std::size_t i = 0; i < laid_.knots.size(); ++i)
    if (laid_.knots[i].phrase) together_->expect_breath(i, breath_beats_);
}

double People::entry_after_join(const Heard& heard) {
  double share = 1;
  if (pass_ > 0 && heard.ns_per_tick > 0) {
    const double period = heard.ns_per_tick * 1e-9 * static_cast<double>(laid_.beat_ticks);
    const double span = (heard.struck_s + way_s_ - heard_s_) / period;
    if (!joins_.empty()) {
      double mean = 0;
      for (const double join : joins_) mean += join / static_cast<double>(joins_.size());
      share = kKnownJoinShare +
              (1 - kKnownJoinShare) * std::min(1.0, std::abs(span - mean) / kSurpriseBeats);
    }
    if (sung_) joins_.push_back(span);  // from verse to verse
  }
  return manners_.entry_s * share * std::max(0.5, 1 + 0.1 * chance_.normal());
}

void People::begin_pass(const Heard& heard) {
  const double heard_s = heard.struck_s + way_s_;
  if (together_) fall_silent(std::max(heard_s, told_s_));
  const double entry = entry_after_join(heard);
  pass_ = heard.pass;
  sung_ = sings(heard);
  plan::RoutePass whole;
  whole.spans = {{0, score_.length}};
  const auto index = static_cast<std::size_t>(std::max(heard.route_pass, 0));
  const bool planned =
      heard.route_pass >= 0 && index < route_.passes.size() && !route_.passes[index].spans.empty();
  laid_ = sung_pass(score_, route_, planned ? route_.passes[index] : whole, beat_);
  firmness_.broken();
  knot_place_.reset();
  heard_place_ = laid_.place_of(heard.onset, 0).value_or(0);
  if (heard.ns_per_tick > 0)
    heard_period_s_ = heard.ns_per_tick * 1e-9 * static_cast<double>(laid_.beat_ticks);
  heard_s_ = heard_s;
  // The upbeat, or a first note let slip: within a beat of the beginning people come in.
  // So they do with any phrase: where lines are alike it may be told as another one.
  const auto here = knot_at(heard_place_);
  const bool begins = heard_place_ <= kPatienceBeats || (here && laid_.knots[*here].phrase);
  if (!sung_ || !begins) return;
  std::size_t knot = 0;
  while (knot + 1 < laid_.knots.size() && laid_.knots[knot + 1].at <= heard_place_ + kOnKnot)
    ++knot;
  enter(knot, heard_s, heard.ns_per_tick * 1e-9 * static_cast<double>(laid_.beat_ticks), entry);
}

void People::enter(std::size_t knot, double heard_s, double period_s, double entry_s) {
  std::vector<double> places;
  for (const Knot& one : laid_.knots) places.push_back(one.at);
  const double place = places[knot];
  together_.emplace(KeepingTogether::Gains{manners_.reluctance, manners_.period_gain},
                    std::move(places), knot, std::max(heard_s + entry_s, told_s_),
                    period_s > 0 ? period_s : 1.0);
  for (std::size_t i = knot + 1; i < laid_.knots.size(); ++i)
    if (laid_.knots[i].phrase) together_->expect_breath(i, breath_beats_);
  waiting_ = false;
  next_note_ = 0;
  while (next_note_ < laid_.notes.size() && laid_.notes[next_note_].at < place - kOnKnot)
    ++next_note_;
  tell_beat(knot);
  knot_place_.reset();
  compare(place, heard_s);
}

// The organ is heard again while people wait at the next knot.
void People::go_on(double place, double heard_s) {
  const double next = laid_.knots[together_->passed() + 1].at;
  if (!may_pass(next)) return;
  const double beats = next - place;
  const double after = beats > kOnKnot ? beats * (1 + manners_.reluctance) * together_->period_s()
                                       : manners_.entry_s * kAfterHoldShare;
  waiting_ = false;
  together_->broken();
  firmness_.broken();
  knot_place_.reset();
  together_->resume(std::max(heard_s + after, told_s_));
}

bool People::may_pass(double place) const {
  for (const double end : laid_.hold_ends)
    if (end > heard_place_ + kOnKnot && end <= place + kOnKnot) return false;
  return place <= laid_.onset_after(heard_place_) + kPatienceBeats + kOnKnot;
}

// Up to here the running step has its time.
double People::running_until() const {
  return together_->ended() ? kNever : laid_.knots[together_->passed() + 1].at;
}

bool People::end_note(double horizon_s) {
  if (!sounding_) return false;
  const bool follows =
      next_note_ < laid_.notes.size() && laid_.notes[next_note_].at <= sounding_->end + kOnKnot;
  if (follows && !sounding_->breath) return false;
  // While people wait, what ends at the next knot or later goes on.
  if (waiting_ && sounding_->end > running_until() - kOnKnot) return false;
  const double end = together_->time_of(sounding_->end);
  const double length = end - together_->time_of(sounding_->at);
  const double at =
      end - (sounding_->breath ? std::min(manners_.breath_s, kBreathShare * length) : 0.0);
  if (at > horizon_s) return false;
  sounding_.reset();
  tell(at, SungEvent::What::silence, 0);
  return true;
}

void People::pass_knot() {
  const double beats = running_until() - laid_.knots[together_->passed()].at;
  const double spread = manners_.interval_sd / std::sqrt(std::max(manners_.people, 1));
  together_->pass(chance_.normal() * spread * together_->period_s() * std::sqrt(beats));
  tell_beat(together_->passed());
}

// The next thing that people do by `horizon_s`; false if there is none.
bool People::one_step(double horizon_s) {
  if (!together_) return false;
  if (end_note(horizon_s)) return true;
  if (next_note_ < laid_.notes.size()) {
    const SungNote& note = laid_.notes[next_note_];
    const bool on_the_way = note.at < running_until() - kOnKnot;
    if (on_the_way && together_->time_of(note.at) > horizon_s) return false;
    if (on_the_way) {
      tell(together_->time_of(note.at), SungEvent::What::note, note.pitch);
      sounding_ = note;
      ++next_note_;
      return true;
    }
  } else if (!sounding_) {
    if (together_->ended()) return together_.reset(), false;
  }
  if (together_->ended() || together_->next_s() > horizon_s) return false;
  if (!may_pass(running_until())) {
    waiting_ = true;
    if (horizon_s - together_->next_s() > kLongestWaitSeconds) fall_silent(told_s_);
    return false;
  }
  pass_knot();
  return true;
}

void People::run_until(double now_s) {
  now_s_ = std::max(now_s_, now_s);
  while (one_step(now_s_ + kAheadSeconds)) {
  }
  told_s_ = std::max(told_s_, now_s_ + kAheadSeconds);
}

void People::fall_silent(double at_s) {
  if (sounding_) tell(at_s, SungEvent::What::silence, 0);
  sounding_.reset();
  together_.reset();
  waiting_ = false;
}

void People::hush() { fall_silent(now_s_); }

void People::tell(double at_s, SungEvent::What what, int pitch) {
  if (!events_.empty()) at_s = std::max(at_s, seconds(events_.back().sung));
  events_.push_back({instant_from_seconds(at_s), instant_from_seconds(at_s + way_s_), what, pitch});
}

void People::tell_beat(std::size_t knot) {
  if (!laid_.knots[knot].beat) return;
  beats_.push_back(
      {pass_, laid_.knots[knot].tick, instant_from_seconds(together_->time_of_knot(knot))});
}

std::vector<SungEvent> People::take_events() { return std::exchange(events_, {}); }

People::State People::state() const {
  State state;
  state.firmness = firmness_.value();
  state.singing = together_.has_value();
  if (together_) {
    state.waiting = waiting_;
    state.place = together_->place_at(now_s_);
    state.lag_s = together_->asynchrony_s();
    state.period_s = together_->period_s();
  }
  return state;
}

}  // namespace loftbeat::crowd
