#include "voice/rt/limiter.h"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "voice/rt/event.h"

namespace loftbeat::voice::rt {

Limiter::Limiter(float ceiling)
    : ceiling_(ceiling), recovery_(std::pow(10.0, kRecoveryDbPerSecond / 20 / kSampleRate)) {
  targets_.fill(1);
  sum_ = static_cast<double>(kDelayFrames);
}

// The least of the last kDelayFrames + 1 needs, this one included.
double Limiter::least_need(double need) {
  while (back_ != front_ && needs_[(back_ - 1) % needs_.size()].gain >= need) --back_;
  needs_[back_++ % needs_.size()] = {now_, need};
  while (needs_[front_ % needs_.size()].at + kDelayFrames < now_) ++front_;
  return needs_[front_ % needs_.size()].gain;
}

// Mean of the last kDelayFrames targets. The running sum is taken afresh once a round, so that
// rounding cannot pile up and a gain of 1 is exactly 1.
double Limiter::smoothed(double target) {
  const std::size_t slot = now_ % kDelayFrames;
  sum_ += target - targets_[slot];
  targets_[slot] = target;
  if (slot == kDelayFrames - 1) sum_ = std::accumulate(targets_.begin(), targets_.end(), 0.0);
  return std::min(1.0, sum_ / static_cast<double>(kDelayFrames));
}

void Limiter::process(float* left, float* right, std::size_t frames) {
  for (std::size_t i = 0; i < frames; ++i) {
    float l = left[i];
    float r = right[i];
    const float peak = std::max(std::abs(l), std::abs(r));
    if (!std::isfinite(l) || !std::isfinite(r)) l = r = 0;
    const double need = std::isfinite(peak) && static_cast<double>(peak) > ceiling_
                            ? ceiling_ / static_cast<double>(peak)
                            : 1.0;
    target_ = std::min(least_need(need), target_ * recovery_);
    gain_ = smoothed(target_);
    const std::size_t slot = now_ % kDelayFrames;
    left[i] = static_cast<float>(static_cast<double>(late_left_[slot]) * gain_);
    right[i] = static_cast<float>(static_cast<double>(late_right_[slot]) * gain_);
    late_left_[slot] = l;
    late_right_[slot] = r;
    ++now_;
  }
}

}  // namespace loftbeat::voice::rt
