#include "hearing/over_singing.h"

#include <cmath>

namespace loftbeat::hearing {
namespace {

constexpr std::size_t kLast = kCriticalBandCount - 1;

// ISO 16: A4 (MIDI 69) is 440 Hz.
double hz_of_note(int note) { return 440.0 * std::exp2((note - 69) / 12.0); }

}  // namespace

VoiceBand voice_band_of_tune(int lowest_note, int highest_note) {
  return {hz_of_note(lowest_note - 12), hz_of_note(highest_note)};
}

double upper_band_sone(const Loudness& of) { return sone_between(of, kUpperBandFirst, kLast); }

OverSinging over_singing(const BandLevels& organ, const BandLevels& singing, const VoiceBand& sung,
                         SoundField field) {
  const Loudness alone = loudness(organ, field);
  const Loudness voices = loudness(singing, field);
  const Loudness both = loudness(power_sum(organ, singing), field);
  const std::size_t low = critical_band_at(sung.lowest_hz);
  const std::size_t high = critical_band_at(sung.highest_hz);
  const auto left_over = [&](std::size_t first, std::size_t last) {
    return sone_between(both, first, last) - sone_between(voices, first, last);
  };
  OverSinging result;
  result.organ_sone = alone.sone;
  result.singing_sone = voices.sone;
  result.total_sone = both.sone;
  result.lead_sone = left_over(high + 1, kLast);
  result.support_sone = left_over(low, high);
  result.exposure_sone = left_over(kUpperBandFirst, kLast);
  return result;
}

}  // namespace loftbeat::hearing
