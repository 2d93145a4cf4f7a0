#include "voice/rt/swell_box.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "voice/rt/event.h"

namespace loftbeat::voice::rt {
namespace {

constexpr double kTravelSeconds = 0.4;
constexpr double kHighestCutoffHz = 23000;        // the filter needs one below half the sample rate
constexpr double kDamping = std::numbers::sqrt2;  // Butterworth

}  // namespace

SwellBox::SwellBox(const SwellBoxSpec& spec, double opening)
    : spec_(spec), opening_(clamped(opening)), wanted_(opening_) {}

double SwellBox::clamped(double opening) {
  return std::isfinite(opening) ? std::clamp(opening, 0.0, 1.0) : 1.0;
}

double SwellBox::level(double opening) const {
  return std::pow(10.0, spec_.closed_db * (1 - opening) / 20);
}

double SwellBox::warped_cutoff(double opening) const {
  const double hz = opening < 1 ? spec_.closed_hz / (1 - opening) : kHighestCutoffHz;
  return std::tan(std::numbers::pi * std::min(hz, kHighestCutoffHz) / kSampleRate);
}

void SwellBox::process(float* samples) {
  constexpr double kStep = kBlockFrames / (kTravelSeconds * kSampleRate);
  const double before = opening_;
  opening_ = std::clamp(wanted_, opening_ - kStep, opening_ + kStep);
  const bool open = before >= 1 && opening_ >= 1;
  double gain = level(before);
  const double gain_step = (level(opening_) - gain) / kBlockFrames;
  const double g = warped_cutoff(opening_);
  const double a1 = 1 / (1 + g * (g + kDamping));
  const double a2 = g * a1;
  const double a3 = g * a2;
  for (int i = 0; i < kBlockFrames; ++i) {
    const double x = static_cast<double>(samples[i]);
    const double v3 = x - second_;
    const double v1 = a1 * first_ + a2 * v3;
    const double v2 = second_ + a2 * first_ + a3 * v3;
    first_ = 2 * v1 - first_;
    second_ = 2 * v2 - second_;
    gain += gain_step;
    if (!open) samples[i] = static_cast<float>(v2 * gain);
  }
}

}  // namespace loftbeat::voice::rt
