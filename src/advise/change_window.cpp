#include <algorithm>

#include "advise/free_hand.h"

namespace loftbeat::advise {
namespace {

using Window = Measured<ChangeWindow>;

struct LastChord {
  Tick onset = 0;
  Tick end = 0;
};

// The last onset in a stretch and where its notes end as written; nothing if none begins there.
std::optional<LastChord> last_chord_in(const music::Score& score, TickSpan span) {
  std::optional<LastChord> chord;
  for (const music::Note& note : score.notes) {
    if (!span.contains(note.onset)) continue;
    const Tick end = std::min(note.onset + note.length, span.end);
    if (!chord || note.onset > chord->onset) chord = LastChord{note.onset, end};
    chord->end = std::max(chord->end, end);
  }
  return chord;
}

double beats(Tick length, const plan::Plan& plan) {
  return static_cast<double>(length) / static_cast<double>(plan::ticks(plan.beat));
}

// What of a join's span is silence, in beats.
double lift_beats(const plan::Join& join, double span, double written) {
  constexpr double kLeastLift = 0.5;
  if (join.kind == plan::JoinKind::hold_and_lift) return join.lift_beats;
  return std::max(span - written, std::min(kLeastLift, span));
}

}  // namespace

Measured<double> set_tempo(const plan::Plan& plan, const music::Score& score) {
  if (plan.tempo_bpm > 0) return plan.tempo_bpm;
  if (score.tempi.empty()) return Measured<double>::unknown("no tempo is set");
  return score.tempi.front().quarters_per_minute / quarters(plan::ticks(plan.beat));
}

Window window_at_join(const plan::Plan& plan, const music::Score& score,
                      const plan::RoutePass& before, const plan::RoutePass& after) {
  const Measured<double> tempo = set_tempo(plan, score);
  if (!tempo) return Window::unknown(tempo.reason);
  const double beat_s = 60 / *tempo;
  if (before.unaccompanied || after.unaccompanied) {
    return ChangeWindow{kEndless, kEndless, beat_s};
  }
  const plan::RouteJoin join = plan::plan_join(plan, score, before, after);
  if (!join.join) return Window::unknown("no join is planned");
  if (!join.span_beats) return Window::unknown("the join's length is not planned");
  if (before.spans.empty()) return Window::unknown("what is played before it is not written");
  const auto chord = last_chord_in(score, before.spans.back());
  if (!chord) return Window::unknown("no chord is written before it");
  const double lift =
      lift_beats(*join.join, *join.span_beats, beats(chord->end - chord->onset, plan));
  return ChangeWindow{*join.span_beats * beat_s, lift * beat_s, beat_s};
}

Measured<Tick> last_chord_of_phrase(const music::Score& score, const plan::Route& route,
                                    int phrase) {
  const auto unknown = Measured<Tick>::unknown("the tune has no such phrase");
  if (phrase < 1 || static_cast<std::size_t>(phrase) > route.phrases.size()) return unknown;
  const auto chord = last_chord_in(score, route.phrases[static_cast<std::size_t>(phrase) - 1].span);
  return chord ? Measured<Tick>(chord->onset) : unknown;
}

Window window_at_phrase_end(const plan::Plan& plan, const music::Score& score,
                            const plan::Route& route, const plan::RoutePass& pass, int phrase) {
  constexpr double kLiftBeats = 0.25;
  const Measured<double> tempo = set_tempo(plan, score);
  if (!tempo) return Window::unknown(tempo.reason);
  const double beat_s = 60 / *tempo;
  if (pass.unaccompanied) return ChangeWindow{kEndless, kEndless, beat_s};
  const Measured<Tick> onset = last_chord_of_phrase(score, route, phrase);
  if (!onset) return Window::unknown(onset.reason);
  const TickSpan span = route.phrases[static_cast<std::size_t>(phrase) - 1].span;
  if (span.end >= score.length) return Window::unknown("it is the last phrase: the join follows");
  const double length = beats(span.end - *onset, plan);
  return ChangeWindow{length * beat_s, std::min(kLiftBeats, length / 3) * beat_s, beat_s};
}

}  // namespace loftbeat::advise
