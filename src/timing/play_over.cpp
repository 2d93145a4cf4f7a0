#include "timing/play_over.h"

#include <algorithm>
#include <cmath>

#include "timing/tempo.h"

namespace loftbeat::timing {

namespace {

std::optional<std::size_t> find_play_over(const std::vector<FittedPass>& passes) {
  const auto found = std::find_if(passes.begin(), passes.end(), [](const FittedPass& p) {
    return p.pass->kind == plan::PassKind::play_over;
  });
  if (found == passes.end()) return std::nullopt;
  return static_cast<std::size_t>(found - passes.begin());
}

void put_tempo(const Question& q, const FittedPass& play_over, const FittedPass& verse,
               PlayOverMeasures& out) {
  const auto unknown = Measured<double>::unknown("too few struck beats");
  out.tempo_bpm = out.verse_tempo_bpm = out.tempo_difference_percent = unknown;
  out.tempo_uncertainty_percent = unknown;
  const Pulse& pulse = play_over.pulse;
  if (pulse.known) out.tempo_bpm = 60 / pulse.period_s;
  if (!verse.pulse.known) return;
  const auto first = opening_slope(q, verse);
  if (!first || first->value <= 0) return;
  out.verse_tempo_bpm = 60 / first->value;
  if (!pulse.known) return;
  out.tempo_difference_percent = 100 * (first->value / pulse.period_s - 1);
  out.tempo_uncertainty_percent =
      100 * std::hypot(verse.pulse.uncertainty_of(*first) / first->value,
                       pulse.period_uncertainty() / pulse.period_s);
}

void put_slowing(const Question& q, const std::vector<FittedPass>& passes, std::size_t index,
                 PlayOverMeasures& out) {
  const FittedPass& play_over = passes[index];
  const bool planned = planned_broadening(q.route, *play_over.pass, play_over.way).has_value();
  out.slowing_percent =
      Measured<double>::unknown(planned ? "a broadening is planned there" : "too few struck beats");
  out.slowing_uncertainty_percent = out.slowing_percent;
  const auto slowing = slowing_of(q, passes, index);
  if (!slowing) return;
  out.slowing_percent = slowing->percent;
  out.slowing_uncertainty_percent = slowing->uncertainty_percent;
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
  const auto play_over = find_play_over(passes);
  if (!play_over) return Measured<PlayOverMeasures>::unknown("no play-over was played");
  const auto verse = next_verse(passes, *play_over);
  if (!verse) return Measured<PlayOverMeasures>::unknown("no verse follows the play-over");
  PlayOverMeasures out;
  out.pass = static_cast<int>(*play_over);
  out.verse = static_cast<int>(*verse);
  put_tempo(question, passes[*play_over], passes[*verse], out);
  put_slowing(question, passes, *play_over, out);
  out.mean_velocity = mean_velocity(question, out.pass);
  out.verse_mean_velocity = mean_velocity(question, out.verse);
  out.loudness_sone = out.verse_loudness_sone =
      Measured<double>::unknown("a review does not reckon it from the stops");
  out.upper_loudness_sone = out.verse_upper_loudness_sone = out.loudness_sone;
  return out;
}

}  // namespace loftbeat::timing
