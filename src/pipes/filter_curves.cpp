#include "pipes/filter_curves.h"

#include <cmath>

#include "hearing/spectrum.h"

namespace loftbeat::pipes {
namespace {

constexpr double kLowestHz = 5;
constexpr double kHighestHz = 24000;
constexpr double kStepsPerOctave = 300;

}  // namespace

FilterCurves::FilterCurves() {
  const auto count =
      static_cast<std::size_t>(std::log2(kHighestHz / kLowestHz) * kStepsPerOctave) + 2;
  at_.resize(count);
  for (std::size_t i = 0; i < count; ++i) {
    const double hz = kLowestHz * std::exp2(static_cast<double>(i) / kStepsPerOctave);
    for (std::size_t band = 0; band < hearing::kBandCount; ++band)
      at_[i][band] = hearing::filter_power(band, hz);
  }
}

void FilterCurves::add(std::array<double, hearing::kBandCount>& bands, double hz,
                       double power) const {
  if (hz <= kLowestHz || hz >= kHighestHz) return;
  const double place = std::log2(hz / kLowestHz) * kStepsPerOctave;
  const auto i = static_cast<std::size_t>(place);
  const double part = place - static_cast<double>(i);
  for (std::size_t band = 0; band < hearing::kBandCount; ++band)
    bands[band] += power * (at_[i][band] + part * (at_[i + 1][band] - at_[i][band]));
}

const FilterCurves& filter_curves() {
  static const FilterCurves curves;
  return curves;
}

}  // namespace loftbeat::pipes
