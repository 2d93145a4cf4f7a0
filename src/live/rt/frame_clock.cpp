#include "live/rt/frame_clock.h"

#include <cmath>
#include <numbers>

namespace loftbeat::live::rt {

void FrameClock::feed(std::int64_t frame, std::int64_t frames, std::int64_t now_ns) {
  const auto number = static_cast<double>(frame);
  if (!begun_) {
    begun_ = true;
    origin_ns_ = now_ns;
    seconds_per_frame_ = 1 / rate_;
    frame_ = number;
    at_ = 0;
    return;
  }
  const double now = static_cast<double>(now_ns - origin_ns_) * 1e-9;
  const double step = number - frame_;
  const double expected = at_ + step * seconds_per_frame_;
  const double error = now - expected;
  frame_ = number;
  if (std::abs(error) > kMostSeconds) {
    at_ = now;
    seconds_per_frame_ = 1 / rate_;
    ++restarts_;
    return;
  }
  const double omega = 2 * std::numbers::pi * kBandwidthHz * static_cast<double>(frames) / rate_;
  at_ = expected + std::numbers::sqrt2 * omega * error;
  if (step > 0) seconds_per_frame_ += omega * omega * error / step;
}

double FrameClock::frame_at(std::int64_t ns) const {
  const double at = static_cast<double>(ns - origin_ns_) * 1e-9;
  return frame_ + (at - at_) / seconds_per_frame_;
}

std::int64_t FrameClock::ns_at(double frame) const {
  const double at = at_ + (frame - frame_) * seconds_per_frame_;
  return origin_ns_ + static_cast<std::int64_t>(std::llround(at * 1e9));
}

}  // namespace loftbeat::live::rt
