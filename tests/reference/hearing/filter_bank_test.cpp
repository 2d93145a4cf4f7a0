// Source: ISO 532-1:2017 Annex B.3, test signals 2 to 4, made here by formula from their
// descriptions (tones of 250 Hz 80 dB, 1 kHz 60 dB, 4 kHz 40 dB); published loudness and the levels
// of the standard's recordings (loudness_cases.csv). Tolerance from clause 5.1: 5 % or 0.1 sone.

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <vector>

#include "csv_table.h"
#include "hearing/hearing.h"

namespace loftbeat::hearing {
namespace {

std::vector<float> tone(double hz, double level_db) {
  const double amplitude = 20e-6 * std::sqrt(2.0) * std::pow(10.0, level_db / 20);
  std::vector<float> samples(2 * 48000);
  for (std::size_t i = 0; i < samples.size(); ++i) {
    samples[i] = static_cast<float>(
        amplitude * std::sin(2 * std::numbers::pi * hz * static_cast<double>(i) / kSampleRateHz));
  }
  return samples;
}

struct Tone {
  const char* name;
  double hz;
  double level_db;
};
constexpr Tone kTones[] = {{"B3_signal2_tone_250Hz_80dB", 250, 80},
                           {"B3_signal3_tone_1000Hz_60dB", 1000, 60},
                           {"B3_signal4_tone_4000Hz_40dB", 4000, 40}};

class Tones : public testing::TestWithParam<Tone> {
 protected:
  const CsvTable cases_ = CsvTable::read("tests/reference/hearing/loudness_cases.csv");
  [[nodiscard]] double published() const {
    return cases_.number(cases_.find(GetParam().name), "N_reference_ISO_sone");
  }
};

TEST_P(Tones, AnalysedFromSamples) {
  const auto levels = bands_of_samples(tone(GetParam().hz, GetParam().level_db));
  const double sone = loudness(levels, SoundField::free).sone;
  EXPECT_NEAR(sone, published(), std::max(0.05 * published(), 0.1));
  // A change detector, much closer; the standard's 4 kHz recording is 0.07 dB below its name.
  EXPECT_NEAR(sone, published(), 0.006 * published());
}

TEST_P(Tones, AsALineSpectrum) {
  const Partial line[] = {{GetParam().hz, GetParam().level_db}};
  const double sone = loudness(bands_of_partials(line), SoundField::free).sone;
  EXPECT_NEAR(sone, published(), std::max(0.05 * published(), 0.1));
  EXPECT_NEAR(sone, published(), 0.006 * published());
}

// The recordings of the standard through the same filters: bands less than 60 dB under the tone,
// above their noise.
TEST_P(Tones, LeakIntoTheNeighboursAsTheRecordingsDo) {
  const Partial line[] = {{GetParam().hz, GetParam().level_db}};
  const auto levels = bands_of_partials(line);
  const auto row = cases_.find(GetParam().name);
  const auto recorded = cases_.numbers(row, "L_25Hz_dB", kBandCount);
  for (std::size_t i = 0; i < kBandCount; ++i) {
    if (recorded[i] < GetParam().level_db - 35) continue;
    EXPECT_NEAR(levels[i], recorded[i], 0.25) << kNominalHz[i];
  }
}

INSTANTIATE_TEST_SUITE_P(AnnexB, Tones, testing::ValuesIn(kTones));

}  // namespace
}  // namespace loftbeat::hearing
