#include "voice/perform_score.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>
#include <utility>

#include "voice/hands.h"
#include "voice/next_pass.h"
#include "voice/pass_clock.h"

namespace loftbeat::voice {
namespace {

constexpr double kRestrikeSeconds = 0.07;
constexpr double kRestrikeShare = 1.0 / 3;
constexpr double kPhraseLiftBeats = 0.25;
constexpr double kPhraseLiftShare = 1.0 / 3;
constexpr double kLeastLiftBeats = 0.5;  // by the bar

// A key of a pass with its times in seconds from the start of the pass.
struct TimedKey {
  double on = 0;
  double off = 0;
  int division = 0;
  int key = 60;
  bool last_chord = false;  // it sounds at the end of the pass
};

struct TimedPass {
  std::vector<TimedKey> keys;
  double length = 0;
  double last_onset = 0;  // of the chord that ends the pass
};

class ScorePerformer {
 public:
  explicit ScorePerformer(const ScoreOrder& order) : order_(order), builder_(*order.organ) {}
  Performance run();

 private:
  [[nodiscard]] TimedPass timed(const plan::RoutePass& pass, const PassClock& clock,
                                const Manuals& manuals) const;
  [[nodiscard]] bool ends_phrase(Tick end, TickSpan span) const;
  void end_last_chord(std::size_t index, TimedPass& pass, double next, double beat) const;
  void mark_bars(const plan::RoutePass& pass, const PassClock& clock, double begin);
  void play(const TimedPass& pass, double begin);

  const ScoreOrder& order_;
  PerformanceBuilder builder_;
  std::vector<Mark> marks_;
};

bool ScorePerformer::ends_phrase(Tick end, TickSpan span) const {
  if (end == span.end) return false;  // the pass's end is the join's matter
  return std::any_of(order_.route->phrases.begin(), order_.route->phrases.end(),
                     [&](const music::Phrase& phrase) { return phrase.span.end == end; });
}

// Keys that are struck again are let go in time.
void separate(std::vector<TimedKey>& keys) {
  std::map<std::pair<int, int>, TimedKey*> latest;
  std::stable_sort(keys.begin(), keys.end(),
                   [](const TimedKey& a, const TimedKey& b) { return a.on < b.on; });
  for (TimedKey& key : keys) {
    TimedKey*& before = latest[{key.division, key.key}];
    if (before != nullptr && before->off > key.on - kRestrikeSeconds && before->on < key.on) {
      const double gap = std::min(kRestrikeSeconds, kRestrikeShare * (key.on - before->on));
      before->off = std::min(before->off, key.on - gap);
    }
    if (before == nullptr || key.on > before->on || key.off > before->off) before = &key;
  }
}

TimedPass ScorePerformer::timed(const plan::RoutePass& pass, const PassClock& clock,
                                const Manuals& manuals) const {
  TimedPass timed;
  timed.length = clock.length_seconds();
  for (std::size_t s = 0; s < pass.spans.size(); ++s) {
    const TickSpan span = pass.spans[s];
    const bool last_span = s + 1 == pass.spans.size();
    for (const PlayedKey& key : dressed(*order_.score, pass, span, *order_.organ, manuals)) {
      TimedKey held{clock.seconds(s, key.onset), clock.seconds(s, key.end), key.division, key.key,
                    last_span && key.end == span.end};
      if (ends_phrase(key.end, span) || (!last_span && key.end == span.end)) {
        held.off -= std::min(kPhraseLiftBeats * clock.beat_seconds(),
                             kPhraseLiftShare * (held.off - held.on));
      }
      if (last_span) timed.last_onset = std::max(timed.last_onset, held.on);
      timed.keys.push_back(held);
    }
  }
  separate(timed.keys);
  return timed;
}

void ScorePerformer::end_last_chord(std::size_t index, TimedPass& pass, double next,
                                    double beat) const {
  if (index + 1 >= order_.route->passes.size()) return;
  const plan::RouteJoin join = join_in_force(*order_.plan, *order_.score, *order_.route, index);
  if (!join.span_beats || !join.join) return;
  const bool hold = join.join->kind == plan::JoinKind::hold_and_lift;
  const double latest = next - std::min(kLeastLiftBeats * beat, (next - pass.last_onset) / 2);
  const double end =
      hold ? pass.last_onset + join.join->hold_beats * beat : std::min(pass.length, latest);
  for (TimedKey& key : pass.keys)
    if (key.last_chord) key.off = std::max(end, key.on + kRestrikeSeconds);
}

void ScorePerformer::mark_bars(const plan::RoutePass& pass, const PassClock& clock, double begin) {
  for (std::size_t s = 0; s < pass.spans.size(); ++s) {
    for (const music::Bar& bar : order_.score->bars) {
      const Tick at = std::max(bar.start, pass.spans[s].begin);
      if (bar.start + bar.length <= pass.spans[s].begin || at >= pass.spans[s].end) continue;
      marks_.push_back({frames_from_seconds(begin + clock.seconds(s, at)), pass.label, bar.number});
    }
  }
}

void ScorePerformer::play(const TimedPass& pass, double begin) {
  for (const TimedKey& key : pass.keys)
    builder_.hold({frames_from_seconds(begin + key.on), frames_from_seconds(begin + key.off),
                   key.division, key.key});
}

bool plays_freely(const plan::RoutePass& pass) {
  return std::any_of(pass.textures.begin(), pass.textures.end(), [](plan::Texture texture) {
    return texture == plan::Texture::free_harmony || texture == plan::Texture::fuller;
  });
}

Performance ScorePerformer::run() {
  const plan::Route& route = *order_.route;
  organ::Registration drawn = organ::empty_registration(*order_.organ);
  double begin = 0;       // of this pass
  double lift_begin = 0;  // when the keys of the pass before went up
  bool invented = false;
  bool free = false;
  for (std::size_t i = 0; i < route.passes.size(); ++i) {
    const plan::RoutePass& pass = route.passes[i];
    const organ::Registration& wanted = order_.registrations[i];
    builder_.change(frames_from_seconds((lift_begin + begin) / 2), drawn, wanted);
    drawn = wanted;
    const PassClock clock(route, pass, order_.tempo_bpm, plan::ticks(order_.plan->beat));
    TimedPass timed_pass = timed(pass, clock, manuals_for(*order_.organ, wanted));
    if (pass.unaccompanied) timed_pass.keys.clear();
    invented = invented || pass.spans.empty();
    free = free || plays_freely(pass);
    const PassEnd end{timed_pass.length, timed_pass.keys.empty()
                                             ? std::nullopt
                                             : std::optional<double>(timed_pass.last_onset)};
    const double next =
        next_begin(*order_.plan, *order_.score, route, i, end, clock.beat_seconds());
    end_last_chord(i, timed_pass, next, clock.beat_seconds());
    play(timed_pass, begin);
    mark_bars(pass, clock, begin);
    lift_begin = begin;
    for (const TimedKey& key : timed_pass.keys) lift_begin = std::max(lift_begin, begin + key.off);
    begin += next;
  }
  Performance performance = builder_.finish(frames_from_seconds(begin));
  performance.marks = std::move(marks_);
  if (invented)
    performance.notices.push_back(
        {"interludes and the Amen are not in the score; they are silent here."});
  if (free)
    performance.notices.push_back(
        {"richer chords and free harmony are not in the score; they sound as written here."});
  return performance;
}

}  // namespace

Performance perform(const ScoreOrder& order) { return ScorePerformer(order).run(); }

}  // namespace loftbeat::voice
