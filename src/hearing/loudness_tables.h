#pragma once

// The tables of ISO 532-1:2017, method for stationary sounds (tables A.3 to A.9). Source: taken
// from two open copies of the standard that agree digit for digit; the standard's own
// text was not read. Private to hearing/.

#include <array>
#include <cstddef>

namespace loftbeat::hearing::tables {

inline constexpr std::size_t kLowBands = 11;       // third octaves 25 Hz to 250 Hz
inline constexpr std::size_t kLevelRanges = 8;     // of the equal-loudness correction
inline constexpr std::size_t kCriticalBands = 20;  // as the method approximates them
inline constexpr std::size_t kSlopeRows = 18;
inline constexpr std::size_t kSlopeColumns = 8;

// A.3: the low bands are corrected by a reduction that depends on the level range. The range is
// the first whose upper level the corrected level does not exceed.
struct LevelRange {
  double upper_db;
  std::array<double, kLowBands> correction_db;
};
inline constexpr std::array<LevelRange, kLevelRanges> kLevelRange = {{
    {45, {-32, -24, -16, -10, -5, 0, -7, -3, 0, -2, 0}},
    {55, {-29, -22, -15, -10, -4, 0, -7, -2, 0, -2, 0}},
    {65, {-27, -19, -14, -9, -4, 0, -6, -2, 0, -2, 0}},
    {71, {-25, -17, -12, -9, -3, 0, -5, -2, 0, -2, 0}},
    {80, {-23, -16, -11, -7, -3, 0, -4, -1, 0, -1, 0}},
    {90, {-20, -14, -10, -6, -3, 0, -4, -1, 0, -1, 0}},
    {100, {-18, -12, -9, -6, -2, 0, -3, -1, 0, -1, 0}},
    {120, {-15, -10, -8, -4, -2, 0, -3, -1, 0, -1, 0}},
}};

// A.4 to A.8. Band 1 sums the third octaves 25 to 80 Hz, band 2 those of 100 to 160, band 3
// 200 and 250; each further band is one third octave from 315 Hz to 12.5 kHz.
struct CriticalBand {
  double threshold_db;      // LTQ: excitation level at the threshold in quiet
  double transmission_db;   // A0: what the ear takes away before the excitation
  double diffuse_db;        // DDF: diffuse field against free field
  double bandwidth_db;      // DCB: third octave against critical band
  double upper_limit_bark;  // ZUP
};
inline constexpr std::array<CriticalBand, kCriticalBands> kCriticalBand = {{
    {30, 0, 0, -0.25, 0.9},   {18, 0, 0, -0.6, 1.8},      {12, 0, 0.5, -0.8, 2.8},
    {8, 0, 0.9, -0.8, 3.5},   {7, 0, 1.2, -0.5, 4.4},     {6, 0, 1.6, 0, 5.4},
    {5, 0, 2.3, 0.5, 6.6},    {4, 0, 2.8, 1.1, 7.9},      {3, 0, 3, 1.5, 9.2},
    {3, 0, 2, 1.7, 10.6},     {3, -0.5, 0, 1.8, 12.3},    {3, -1.6, -1.4, 1.8, 13.8},
    {3, -3.2, -2, 1.7, 15.2}, {3, -5.4, -1.9, 1.6, 16.7}, {3, -5.6, -1, 1.4, 18.1},
    {3, -4, 0.5, 1.2, 19.3},  {3, -1.5, 3, 0.8, 20.6},    {3, 2, 4, 0.5, 21.8},
    {3, 5, 4.3, 0, 22.7},     {3, 12, 4, -0.5, 23.6},
}};
inline constexpr double kTopBark = 24.0;

// A.9: how fast specific loudness falls above a band, in sone per Bark per Bark, by the specific
// loudness reached (rows) and by the band's number (columns, the last for all higher bands).
struct SlopeRow {
  double lower_limit;  // RNS, sone per Bark
  std::array<double, kSlopeColumns> steepness;
};
inline constexpr std::array<SlopeRow, kSlopeRows> kSlopeRow = {{
    {21.5, {13, 8.2, 6.3, 5.5, 5.5, 5.5, 5.5, 5.5}},
    {18, {9, 7.5, 6, 5.1, 4.5, 4.5, 4.5, 4.5}},
    {15.1, {7.8, 6.7, 5.6, 4.9, 4.4, 3.9, 3.9, 3.9}},
    {11.5, {6.2, 5.4, 4.6, 4.0, 3.5, 3.2, 3.2, 3.2}},
    {9, {4.5, 3.8, 3.6, 3.2, 2.9, 2.7, 2.7, 2.7}},
    {6.1, {3.7, 3.0, 2.8, 2.35, 2.2, 2.2, 2.2, 2.2}},
    {4.4, {2.9, 2.3, 2.1, 1.9, 1.8, 1.7, 1.7, 1.7}},
    {3.1, {2.4, 1.7, 1.5, 1.35, 1.3, 1.3, 1.3, 1.3}},
    {2.13, {1.95, 1.45, 1.3, 1.15, 1.1, 1.1, 1.1, 1.1}},
    {1.36, {1.5, 1.2, 0.94, 0.86, 0.82, 0.82, 0.82, 0.82}},
    {0.82, {0.72, 0.67, 0.64, 0.63, 0.62, 0.62, 0.62, 0.62}},
    {0.42, {0.59, 0.53, 0.51, 0.5, 0.42, 0.42, 0.42, 0.42}},
    {0.3, {0.4, 0.33, 0.26, 0.24, 0.24, 0.22, 0.22, 0.22}},
    {0.22, {0.27, 0.21, 0.2, 0.18, 0.17, 0.17, 0.17, 0.17}},
    {0.15, {0.16, 0.15, 0.14, 0.12, 0.11, 0.11, 0.11, 0.11}},
    {0.1, {0.12, 0.11, 0.1, 0.08, 0.08, 0.08, 0.08, 0.08}},
    {0.035, {0.09, 0.08, 0.07, 0.06, 0.06, 0.06, 0.06, 0.05}},
    {0, {0.06, 0.05, 0.03, 0.02, 0.02, 0.02, 0.02, 0.02}},
}};

}  // namespace loftbeat::hearing::tables
