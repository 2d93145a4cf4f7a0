#pragma once

namespace loftbeat::pipes {

// What is left of the power of a partial, 0 to 1, where a sample is played at another pitch than
// its own and the points between its points are reckoned by the usual cubic (fourth order, Catmull
// and Rom's), as FluidSynth does. `cycles` is the partial's frequency in the sample as a share of
// the sample rate, 0 to 0.5; that of its images is 1 - cycles and 1 + cycles, and this is their
// power too. Private to pipes/.
//
// It is the squared Fourier transform of the kernel (the test integrates the kernel itself). The
// images, played at the other pitch, fold back below half the sample rate. Worked numbers at 48
// kHz: 8 kHz, 0.973 (-0.12 dB); 12.5 kHz, 0.864 (-0.63 dB).
[[nodiscard]] double cubic_power(double cycles);

}  // namespace loftbeat::pipes
