#pragma once

#include <array>

#include "simulate/random.h"

namespace loftbeat::simulate {

// Four parts of one chord, soprano first.
using FourParts = std::array<int, 4>;

// Sets chords under a tune in a major key, each inner voice moving to the nearest tone.
class PartWriter {
 public:
  explicit PartWriter(int tonic) : tonic_(tonic) {}

  // A chord under the tune's `pitch`, by chance among those of the key that hold it; on the tonic
  // chord where `final` says so (the pitch must be one of its tones then).
  enum class Place { within, final };
  [[nodiscard]] FourParts under(int pitch, Place place, Random& random);

  // The tune's pitch of a scale step: 0 = the tonic from A flat 3 to G 4.
  [[nodiscard]] int scale_pitch(int step) const;

 private:
  int tonic_;  // pitch class
  int alto_ = 64, tenor_ = 57, bass_ = 48;
};

}  // namespace loftbeat::simulate
