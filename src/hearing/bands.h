#pragma once

#include <array>
#include <bitset>
#include <cstddef>
#include <limits>

namespace loftbeat::hearing {

// The 28 third octaves that ISO 532-1 takes: nominal 25 Hz to 12.5 kHz (IEC 61260-1). Index 0 is
// 25 Hz, 16 is 1 kHz, 27 is 12.5 kHz.
inline constexpr std::size_t kBandCount = 28;
inline constexpr std::size_t kBand1000Hz = 16;

// Level in each third octave, dB re 20 uPa for sound pressure, dB re 1 pW where a name says
// power. Silence is minus infinity.
using BandLevels = std::array<double, kBandCount>;
using BandMask = std::bitset<kBandCount>;

inline constexpr double kSilenceDb = -std::numeric_limits<double>::infinity();

// What a band is called: 25, 31.5, 40 ... 12500.
inline constexpr std::array<double, kBandCount> kNominalHz = {
    25,  31.5, 40,   50,   63,   80,   100,  125,  160,  200,  250,  315,  400,   500,
    630, 800,  1000, 1250, 1600, 2000, 2500, 3150, 4000, 5000, 6300, 8000, 10000, 12500};

// Exact mid-band frequency, base ten (IEC 61260-1): 1000 * 10^(n/10) Hz, n = 0 at 1 kHz.
// Example: band 26 (nominal 10 kHz) is at 10000 Hz, band 4 (63 Hz) at 63.096 Hz.
// Requires band < kBandCount.
[[nodiscard]] double mid_hz(std::size_t band);

// The edges lie a twentieth of a decade from the middle. Example: 1 kHz, 891.25 to 1122.02 Hz.
[[nodiscard]] double lower_edge_hz(std::size_t band);
[[nodiscard]] double upper_edge_hz(std::size_t band);

[[nodiscard]] BandLevels silence();

// Level of a mean square (or of a power) against its reference, 1 = 0 dB; 0 gives kSilenceDb.
[[nodiscard]] double level_from_power(double ratio);
[[nodiscard]] double power_from_level(double level_db);

// Sum of incoherent sounds: 60 dB and 60 dB make 63.01 dB; silence adds nothing.
[[nodiscard]] double power_sum(double a_db, double b_db);
[[nodiscard]] BandLevels power_sum(const BandLevels& a, const BandLevels& b);

// All bands summed to one level. Silence gives kSilenceDb.
[[nodiscard]] double total_level(const BandLevels& levels);

// The same change in every band, dB, positive = louder.
[[nodiscard]] BandLevels raised(const BandLevels& levels, double by_db);

// Share, 0 to 1, of the total power that lies in the marked bands; 0 for silence.
[[nodiscard]] double share_of_power(const BandLevels& levels, const BandMask& marked);

}  // namespace loftbeat::hearing
