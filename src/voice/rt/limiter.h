#pragma once

#include <array>
#include <cstddef>
#include <cstdint>

namespace loftbeat::voice::rt {

// Keeps the peaks of two channels under a ceiling. Both get the same gain, so that the picture
// does not wander. It looks 64 frames ahead (1.33 ms) and comes that much later out.
//
// What it promises: no sample leaves above the ceiling (but for rounding, 1e-6 of it); what stays
// under the ceiling leaves unchanged to the last bit; the gain comes back by at most
// kRecoveryDbPerSecond, which is 2 dB in 50 ms. A frame that is not a number leaves as silence.
// Worked number: ceiling 0.5, one lone sample of 1.0 leaves as 0.5, 64 frames later.
// Audio thread; allocates nothing.
class Limiter {
 public:
  static constexpr std::size_t kDelayFrames = 64;
  static constexpr double kRecoveryDbPerSecond = 40;

  // 0 < ceiling <= 1, of full scale.
  explicit Limiter(float ceiling);

  void process(float* left, float* right, std::size_t frames);

  // The gain now in force, 0 to 1; 1 = nothing is held back.
  [[nodiscard]] double gain() const { return gain_; }

 private:
  struct Need {
    std::uint64_t at = 0;
    double gain = 1;
  };
  [[nodiscard]] double least_need(double need);
  [[nodiscard]] double smoothed(double target);

  double ceiling_;
  double recovery_;  // factor a frame
  std::uint64_t now_ = 0;
  std::array<float, kDelayFrames> late_left_{};
  std::array<float, kDelayFrames> late_right_{};
  // The least gain needed by the last 65 frames: candidates rise from front to back.
  std::array<Need, 128> needs_{};
  std::uint64_t front_ = 0;
  std::uint64_t back_ = 0;
  std::array<double, kDelayFrames> targets_{};
  double target_ = 1;
  double sum_ = 0;
  double gain_ = 1;
};

}  // namespace loftbeat::voice::rt
