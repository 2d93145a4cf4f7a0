#include "hearing/filter_bank.h"

#include <algorithm>

#include "hearing/filter_table.h"

namespace loftbeat::hearing {
namespace {

constexpr double kReferencePascal = 20e-6;

// Numerators of the three sections.
constexpr std::array<std::array<double, 3>, 3> kNumerators = {
    {{1.0, 2.0, 1.0}, {1.0, 0.0, -1.0}, {1.0, -2.0, 1.0}}};

}  // namespace

// Transposed direct form II: two states a section, good rounding at low frequencies.
void FilterBank::run(std::span<const float> pascals) {
  for (std::size_t i = 0; i < kBandCount; ++i) {
    Band& band = bands_[i];
    const tables::BandFilter& filter = tables::kBandFilter[i];
    for (const float pascal : pascals) {
      double x = static_cast<double>(pascal) * filter.gain;
      for (std::size_t k = 0; k < 3; ++k) {
        Section& state = band.sections[k];
        const auto& b = kNumerators[k];
        const double y = x * b[0] + state.s1;
        state.s1 = b[1] * x - filter.sections[k].a1 * y + state.s2;
        state.s2 = b[2] * x - filter.sections[k].a2 * y;
        x = y;
      }
      band.square_sum += x * x;
    }
  }
}

void FilterBank::feed(std::span<const float> pascals) {
  run(pascals);
  fed_ += pascals.size();
}

void FilterBank::skip(std::span<const float> pascals) {
  std::array<double, kBandCount> kept;
  for (std::size_t i = 0; i < kBandCount; ++i) kept[i] = bands_[i].square_sum;
  run(pascals);
  for (std::size_t i = 0; i < kBandCount; ++i) bands_[i].square_sum = kept[i];
}

BandLevels FilterBank::take_levels() {
  BandLevels levels = silence();
  const double scale = kReferencePascal * kReferencePascal * static_cast<double>(fed_);
  for (std::size_t i = 0; i < kBandCount; ++i) {
    if (fed_ > 0) levels[i] = level_from_power(bands_[i].square_sum / scale);
    bands_[i].square_sum = 0;
  }
  fed_ = 0;
  return levels;
}

BandLevels bands_of_samples(std::span<const float> pascals) {
  FilterBank bank;
  const std::size_t settling = std::min(kSettlingSamples, pascals.size());
  bank.skip(pascals.first(settling));
  bank.feed(pascals.subspan(settling));
  return bank.take_levels();
}

}  // namespace loftbeat::hearing
