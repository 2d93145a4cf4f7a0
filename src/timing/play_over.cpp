#include "timing/play_over.h"

#include <algorithm>
#include <cmath>

#include "timing/tempo.h"

namespace loftbeat::timing {

namespace {

constexpr std::size_t kLeastPhraseBeats = 5;

std::optional<std::size_t> find_pass(const std::vector<FittedPass>& passes, plan::PassKind kind,
                                     std::size_t from, std::optional<int> run) {
  for (std::size_t i = from; i < passes.size(); ++i) {
    const follow::AlignedPass& pass = *passes[i].pass;
    if (pass.kind == kind && (!run || pass.run == *run)) return i;
  }
  return std::nullopt;
}

// Slope of the verse's first phrase, or of as many phrases as have beats enough.
std::optional<Slope> first_phrase_slope(const Question& q, const FittedPass& verse) {
  for (const music::Phrase& phrase : q.route.phrases) {
    const auto end = verse.way.place_of(phrase.span.end);
    if (!end) continue;
    const auto beats = std::count_if(verse.pulse.beats.begin(), verse.pulse.beats.end(),
                                     [&](const PulseBeat& b) { return b.used && b.x < *end; });
    if (static_cast<std::size_t>(beats) < kLeastPhraseBeats) continue;
    // A phrase's end is the next one's begin, which is not of it.
    return slope_between(verse.pulse, 0, std::nextafter(*end, 0.0));
  }
  return Slope{verse.pulse.period_s, verse.pulse.period_uncertainty_s, 0, 0};
}

void put_tempo(const Question& q, const FittedPass& play_over, const FittedPass& verse,
               PlayOverMeasures& out) {
  const auto unknown = Measured<double>::unknown("too few struck beats");
  out.tempo_bpm = out.verse_tempo_bpm = out.tempo_difference_percent = unknown;
  out.tempo_uncertainty_percent = unknown;
  const Pulse& pulse = play_over.pulse;
  if (pulse.known) out.tempo_bpm = 60 / pulse.period_s;
  if (!verse.pulse.known) return;
  const auto first = first_phrase_slope(q, verse);
  if (!first || first->value <= 0) return;
  out.verse_tempo_bpm = 60 / first->value;
  if (!pulse.known) return;
  out.tempo_difference_percent = 100 * (first->value / pulse.period_s - 1);
  out.tempo_uncertainty_percent = 100 * std::hypot(first->uncertainty / first->value,
                                                   pulse.period_uncertainty_s / pulse.period_s);
}

void put_slowing(const Question& q, const FittedPass& play_over, PlayOverMeasures& out) {
  out.slowing_percent = Measured<double>::unknown("too few struck beats");
  out.slowing_uncertainty_percent = out.slowing_percent;
  const Pulse& pulse = play_over.pulse;
  if (!pulse.known) return;
  if (planned_broadening(q.route, *play_over.pass, play_over.way)) {
    out.slowing_percent = Measured<double>::unknown("a broadening is planned there");
    return;
  }
  const double last = pulse.beats.back().x;
  const auto before = slope_between(pulse, 0, last - kPlayOverEndBeats);
  const auto end = slope_between(pulse, last - kPlayOverEndBeats, last);
  if (!before || !end || before->pairs < 3 || end->value <= 0 || before->value <= 0) return;
  out.slowing_percent = 100 * (1 - before->value / end->value);
  out.slowing_uncertainty_percent =
      100 * std::hypot(before->uncertainty / before->value, end->uncertainty / end->value);
}

Measured<double> mean_velocity(const Question& q, int pass) {
  if (!q.take.velocity_varies)
    return Measured<double>::unknown("the keyboard sends one fixed velocity");
  const auto& aligned = q.alignment.passes[static_cast<std::size_t>(pass)];
  double sum = 0;
  int count = 0;
  for (std::size_t i = aligned.first_note; i <= aligned.last_note && i < q.alignment.notes.size();
       ++i) {
    if (q.alignment.notes[i].pass != pass) continue;
    sum += q.take.notes[i].velocity;
    ++count;
  }
  if (count == 0) return Measured<double>::unknown("nothing was played");
  return sum / count;
}

}  // namespace

Measured<PlayOverMeasures> measure_play_over(const Question& question,
                                             const std::vector<FittedPass>& passes) {
  const auto play_over = find_pass(passes, plan::PassKind::play_over, 0, std::nullopt);
  if (!play_over) return Measured<PlayOverMeasures>::unknown("no play-over was played");
  const auto verse =
      find_pass(passes, plan::PassKind::verse, *play_over + 1, passes[*play_over].pass->run);
  if (!verse) return Measured<PlayOverMeasures>::unknown("no verse follows the play-over");
  PlayOverMeasures out;
  out.pass = static_cast<int>(*play_over);
  out.verse = static_cast<int>(*verse);
  put_tempo(question, passes[*play_over], passes[*verse], out);
  put_slowing(question, passes[*play_over], out);
  out.mean_velocity = mean_velocity(question, out.pass);
  out.verse_mean_velocity = mean_velocity(question, out.verse);
  out.loudness_sone = out.verse_loudness_sone = Measured<double>::unknown("no organ description");
  out.upper_loudness_sone = out.verse_upper_loudness_sone = out.loudness_sone;
  return out;
}

}  // namespace loftbeat::timing
