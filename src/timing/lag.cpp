#include "timing/lag.h"

#include <algorithm>
#include <cmath>

namespace loftbeat::timing {

namespace {

enum class Limb { feet, left, right };

struct Played {
  Tick tick = 0;
  Limb limb = Limb::right;
  double t_ms = 0;
};

bool on_pedal_channel(const take::CleanTake& take, const take::TakenNote& note) {
  const auto own = static_cast<unsigned>(note.channels) | (1u << note.channel);
  return (own & take.pedal_channels) != 0;
}

FeetSource feet_source(const Question& q, const follow::AlignedPass& pass) {
  if (q.take.pedal_channels != 0) return FeetSource::pedal_channel;
  const bool without_pedal = std::find(pass.textures.begin(), pass.textures.end(),
                                       plan::Texture::no_pedal) != pass.textures.end();
  return q.score.voices >= 3 && !without_pedal ? FeetSource::bass_voice : FeetSource::none;
}

Limb limb_of(const Question& q, FeetSource feet, const music::Note& written,
             const take::TakenNote& note) {
  if (feet == FeetSource::pedal_channel && on_pedal_channel(q.take, note)) return Limb::feet;
  if (feet == FeetSource::bass_voice && written.voice == q.score.voices - 1) return Limb::feet;
  return written.staff == 0 ? Limb::right : Limb::left;
}

std::vector<Played> played_notes(const Question& q, int pass, FeetSource feet) {
  const auto& aligned = q.alignment.passes[static_cast<std::size_t>(pass)];
  std::vector<Played> played;
  for (std::size_t i = aligned.first_note; i <= aligned.last_note && i < q.alignment.notes.size();
       ++i) {
    const follow::NoteMatch& match = q.alignment.notes[i];
    if (match.pass != pass || match.score < 0) continue;
    const music::Note& written = q.score.notes[static_cast<std::size_t>(match.score)];
    const take::TakenNote& note = q.take.notes[i];
    played.push_back(
        {written.onset, limb_of(q, feet, written, note), milliseconds(note.on.time_since_epoch())});
  }
  std::stable_sort(played.begin(), played.end(),
                   [](const Played& a, const Played& b) { return a.tick < b.tick; });
  return played;
}

// Adds what one chord says: median of `late` minus median of `ruler`.
void add_chord(const std::vector<double>& late, const std::vector<double>& ruler,
               std::vector<double>& lags) {
  if (!late.empty() && !ruler.empty()) lags.push_back(median(late) - median(ruler));
}

Measured<LagMs> summary(std::vector<double> lags, const std::string& why_none) {
  const int count = static_cast<int>(lags.size());
  if (count < kLeastChordsForLag) return Measured<LagMs>::unknown(why_none);
  const double middle = median(lags);
  return LagMs{middle, half_quartile_distance(std::move(lags)), count};
}

}  // namespace

Lags measure_lags(const Question& question, int pass) {
  Lags out;
  out.feet = feet_source(question, question.alignment.passes[static_cast<std::size_t>(pass)]);
  const std::vector<Played> played = played_notes(question, pass, out.feet);
  std::vector<double> pedal_lags, left_lags;
  for (std::size_t begin = 0, end = 0; begin < played.size(); begin = end) {
    std::vector<double> feet, left, right;
    for (; end < played.size() && played[end].tick == played[begin].tick; ++end) {
      auto& side = played[end].limb == Limb::feet   ? feet
                   : played[end].limb == Limb::left ? left
                                                    : right;
      side.push_back(played[end].t_ms);
    }
    add_chord(left, right, left_lags);
    std::vector<double> hands = right;
    hands.insert(hands.end(), left.begin(), left.end());
    add_chord(feet, hands, pedal_lags);
  }
  const auto& textures = question.alignment.passes[static_cast<std::size_t>(pass)].textures;
  const bool silent_pedal =
      std::find(textures.begin(), textures.end(), plan::Texture::no_pedal) != textures.end();
  out.pedal =
      summary(std::move(pedal_lags),
              silent_pedal ? "no pedal was played" : "feet and hands cannot be told apart here");
  out.left_hand = summary(std::move(left_lags), "the hands cannot be told apart here");
  if (!out.pedal) out.feet = FeetSource::none;
  return out;
}

double lag_uncertainty_ms(const LagMs& lag) {
  const double deviation = 2 * lag.spread_ms / 1.349;
  return 1.2533 * deviation / std::sqrt(static_cast<double>(std::max(lag.count, 1)));
}

}  // namespace loftbeat::timing
