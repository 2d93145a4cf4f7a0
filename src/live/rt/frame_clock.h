#pragma once

#include <cstdint>

namespace loftbeat::live::rt {

// From the steady clock to frames of the sound device. The device asks for its frames in bursts
// that come more or less late; this holds a straight line through the times of its calls, a
// delay-locked loop of the second order. (Loop filter: critically damped, omega = 2 pi B T,
// gains sqrt(2) omega and omega squared, as usual for such loops; B below.) Audio thread.
//
// Worked number: calls of 128 frames every 2.666 ms, each 0 to 1 ms late at random: after a second
// a moment is placed within 0.2 ms of where it belongs, less the mean lateness.
class FrameClock {
 public:
  static constexpr double kBandwidthHz = 0.5;
  // A call that comes further off than this starts the line anew: the device was held up.
  static constexpr double kMostSeconds = 0.05;

  explicit FrameClock(double sample_rate) : rate_(sample_rate) {}

  // At the head of each call: frame number of its first frame, how many it asks for, and when.
  void feed(std::int64_t frame, std::int64_t frames, std::int64_t now_ns);

  // The frame that the device asks for at that time; meaningful after the first feed.
  [[nodiscard]] double frame_at(std::int64_t ns) const;
  [[nodiscard]] std::int64_t ns_at(double frame) const;
  [[nodiscard]] std::uint64_t restarts() const { return restarts_; }

 private:
  double rate_;
  bool begun_ = false;
  std::int64_t origin_ns_ = 0;  // the rest is counted from it, so that nothing is lost to rounding
  double frame_ = 0;            // of the last call
  double at_ = 0;               // seconds from the origin at which it belongs
  double seconds_per_frame_ = 0;
  std::uint64_t restarts_ = 0;
};

}  // namespace loftbeat::live::rt
