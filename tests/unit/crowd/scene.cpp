#include "scene.h"

#include <cmath>
#include <limits>
#include <string>

namespace loftbeat::crowd {
namespace {

constexpr Tick kQuarter = kTicksPerQuarter;

}  // namespace

TuneScene tune_scene(const TuneForm& form) {
  TuneScene made;
  music::Score& score = made.score;
  constexpr int kSteps[] = {67, 69, 71, 72, 74, 72, 71, 69};
  for (int bar = 0; bar < form.bars; ++bar) {
    music::Bar one;
    one.start = Tick{4} * bar * kQuarter;
    one.length = 4 * kQuarter;
    one.number = std::to_string(bar + 1);
    score.bars.push_back(one);
    for (int beat = 0; beat < 4; ++beat) {
      const Tick at = one.start + beat * kQuarter;
      score.notes.push_back({at, kQuarter, 48, 1, 1});
      score.notes.push_back({at, kQuarter, kSteps[(bar * 4 + beat) % 8], 0, 0});
    }
  }
  score.length = Tick{4} * form.bars * kQuarter;
  score.voices = score.staves = 2;
  for (int bar = 0; bar < form.bars; bar += form.phrase_bars)
    score.phrases.push_back(
        {{Tick{4} * bar * kQuarter, Tick{4} * (bar + form.phrase_bars) * kQuarter}});
  made.route.phrases = score.phrases;
  for (int i = form.play_over ? 0 : 1; i <= form.verses; ++i) {
    plan::RoutePass pass;
    pass.kind = i == 0 ? plan::PassKind::play_over : plan::PassKind::verse;
    pass.label = i == 0 ? "play-over" : std::to_string(i);
    pass.spans = {{0, score.length}};
    made.route.passes.push_back(pass);
  }
  return made;
}

follow::LivePosition position_of(int pass, int route_pass, Tick onset, double struck_s,
                                 double period_s, double now_s) {
  follow::LivePosition position;
  position.in_tune = true;
  position.onset = onset;
  position.passes_begun = pass;
  position.route_pass = route_pass;
  position.ns_per_tick = period_s * 1e9 / static_cast<double>(kQuarter);
  const double gone = (now_s - struck_s) / period_s * static_cast<double>(kQuarter);
  position.tick = onset + std::min(static_cast<Tick>(std::max(gone, 0.0)), kQuarter);
  return position;
}

Played play(const TuneScene& scene, People& people, const NextBeat& next, double step_s) {
  Played played;
  const auto beats = static_cast<int>(scene.score.length / kQuarter);
  const double way = 20 * kSecondsPerMetre;
  double at = 1;
  double period = 0.75;
  for (std::size_t p = 0; p < scene.route.passes.size(); ++p) {
    follow::AlignedPass aligned;
    aligned.label = scene.route.passes[p].label;
    aligned.kind = scene.route.passes[p].kind;
    aligned.route_pass = static_cast<int>(p);
    aligned.spans = scene.route.passes[p].spans;
    aligned.first_onset = instant_from_seconds(at);
    played.struck_s.emplace_back();
    for (int k = 0; k < beats; ++k) {
      played.struck_s.back().push_back(at);
      const Instant struck = instant_from_seconds(at);
      aligned.onsets.push_back({k * kQuarter, struck, struck, 2, 2});
      aligned.last_onset = struck;
      const auto tell = [&](double now) {
        people.advance(instant_from_seconds(now),
                       position_of(static_cast<int>(p) + 1, static_cast<int>(p), k * kQuarter, at,
                                   period, now));
      };
      tell(at);
      // What he has heard of the people when he makes up his mind: half a beat later.
      const double decides = at + period / 2;
      double now = at;
      while (now < decides) {
        tell(now);
        now += step_s;
      }
      double lag = 0;
      for (const CrowdBeat& beat : people.beats()) {
        const auto b = static_cast<std::size_t>(beat.tick / kQuarter);
        if (beat.pass != static_cast<int>(p) + 1 || b >= played.struck_s.back().size()) continue;
        if (seconds(beat.sung) + way <= decides)
          lag = seconds(beat.sung) + way - played.struck_s.back()[b];
      }
      period = next({static_cast<int>(p), k, at, lag});
      const double until = at + period * (k + 1 == beats ? 3 : 1);
      while (now < until) {
        tell(now);
        now += step_s;
      }
      at = until;
    }
    aligned.last_release = instant_from_seconds(at);
    played.alignment.passes.push_back(aligned);
  }
  return played;
}

std::vector<double> sung_beats(const People& people, int pass, int beats) {
  std::vector<double> times(static_cast<std::size_t>(beats),
                            std::numeric_limits<double>::quiet_NaN());
  for (const CrowdBeat& beat : people.beats())
    if (beat.pass == pass)
      times[static_cast<std::size_t>(beat.tick / kQuarter)] = seconds(beat.sung);
  return times;
}

}  // namespace loftbeat::crowd
