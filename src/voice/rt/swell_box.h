#pragma once

namespace loftbeat::voice::rt {

// The shutters round one division, on samples: a level and a low-pass of second order
// (Butterworth), as organ/swell_box.h describes them.
struct SwellBoxSpec {
  double closed_db = -12;   // level when shut
  double closed_hz = 1500;  // low-pass when shut; half open twice that, open none
};

// The shutters follow the pedal at full travel in no less than 0.4 s, so that the level of a box
// of -40 dB moves by 5 dB in 50 ms and that of a usual one by less. Open, samples pass unchanged.
// Audio thread; allocates nothing.
class SwellBox {
 public:
  explicit SwellBox(const SwellBoxSpec& spec, double opening = 1);
  // Where the shutters shall go; clamped to 0 (shut) to 1 (open).
  void move_to(double opening) { wanted_ = clamped(opening); }
  // One block of kBlockFrames, in place.
  void process(float* samples);
  [[nodiscard]] double opening() const { return opening_; }

 private:
  [[nodiscard]] static double clamped(double opening);
  [[nodiscard]] double level(double opening) const;
  [[nodiscard]] double warped_cutoff(double opening) const;

  SwellBoxSpec spec_;
  double opening_;
  double wanted_;
  // State-variable filter with trapezoidal integrators: it stays sound while the cut-off moves.
  double first_ = 0;
  double second_ = 0;
};

}  // namespace loftbeat::voice::rt
