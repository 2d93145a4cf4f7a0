#include "live/rt/metronome.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

namespace loftbeat::live::rt {
namespace {

// Long enough to have a pitch, short enough to tell when (ours: common practice, no source).
constexpr double kKnockSeconds = 0.03;
constexpr double kKnockHz = 1000;
constexpr double kHighKnockHz = 1500;

std::vector<float> knock(double hertz, double peak, double rate) {
  const auto frames = static_cast<std::size_t>(kKnockSeconds * rate);
  std::vector<float> samples(frames);
  double highest = 0;
  for (std::size_t i = 0; i < frames; ++i) {
    const double t = static_cast<double>(i) / rate;
    const double fade = std::exp(-t / (kKnockSeconds / 6)) * (1 - t / kKnockSeconds);
    const double sample = std::cos(2 * std::numbers::pi * hertz * t) * fade;
    highest = std::max(highest, std::abs(sample));
    samples[i] = static_cast<float>(sample);
  }
  for (float& sample : samples) sample *= static_cast<float>(peak / highest);
  return samples;
}

}  // namespace

Metronome::Metronome(std::vector<ClickAt> clicks, double sample_rate, double peak_db)
    : clicks_(std::move(clicks)),
      knock_(knock(kKnockHz, std::pow(10.0, peak_db / 20), sample_rate)),
      high_knock_(knock(kHighKnockHz, std::pow(10.0, peak_db / 20), sample_rate)) {}

void Metronome::begin_anew(std::int64_t first) {
  next_ = 0;
  while (next_ < clicks_.size() && start_ != kStopped && start_ + clicks_[next_].frame < first)
    ++next_;
}

void Metronome::add_click(float* left, float* right, std::size_t frames, std::int64_t first,
                          const ClickAt& click) const {
  const std::vector<float>& samples = click.accent ? high_knock_ : knock_;
  const std::int64_t at = start_ + click.frame - first;  // of its first frame, in this call
  const std::int64_t begin = std::max<std::int64_t>(at, 0);
  const std::int64_t end = std::min<std::int64_t>(at + static_cast<std::int64_t>(samples.size()),
                                                  static_cast<std::int64_t>(frames));
  for (std::int64_t i = begin; i < end; ++i) {
    left[i] += samples[static_cast<std::size_t>(i - at)];
    right[i] += samples[static_cast<std::size_t>(i - at)];
  }
}

void Metronome::add_to(float* left, float* right, std::size_t frames, std::int64_t first) {
  const std::int64_t wanted = wanted_.load(std::memory_order_acquire);
  if (wanted != start_) {
    start_ = wanted;
    begin_anew(first);
  }
  if (start_ == kStopped) return;
  const auto end = first + static_cast<std::int64_t>(frames);
  const auto length = static_cast<std::int64_t>(knock_.size());
  while (next_ < clicks_.size() && start_ + clicks_[next_].frame + length <= first) ++next_;
  for (std::size_t i = next_; i < clicks_.size() && start_ + clicks_[i].frame < end; ++i)
    add_click(left, right, frames, first, clicks_[i]);
}

}  // namespace loftbeat::live::rt
