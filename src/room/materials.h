#pragma once

#include <array>
#include <cstddef>
#include <span>
#include <string_view>

namespace loftbeat::room {

enum class AbsorptionKind {
  per_square_metre,  // absorption coefficient, a share of 1
  per_person,        // absorption area of one person, m2
};

// Published octave bands: 125, 250, 500, 1000, 2000, 4000, 8000 Hz.
inline constexpr std::size_t kPublishedOctaves = 7;
inline constexpr double kNotGiven = -1.0;  // 8 kHz is blank in many tables
using OctaveTable = std::array<double, kPublishedOctaves>;

// How much sound a surface or a person takes away, with the place where the figures come from.
// Random incidence, to be used in Sabine's formula.
struct Material {
  std::string_view id;  // as church files name it
  std::string_view label;
  AbsorptionKind kind;
  OctaveTable absorption;
  std::string_view source;
};

// The built-in table.
[[nodiscard]] std::span<const Material> materials();
// Null if the table has no such material.
[[nodiscard]] const Material* find_material(std::string_view id);

// The value at any frequency. At an octave's middle it is the table's; between, it lies on the
// straight line over the logarithm of frequency; below 125 Hz it stays at the value of 125 Hz, and
// above the last given octave at that one's (common practice, no source).
// Example: 0.10 at 125 Hz and 0.40 at 250 Hz give 0.20 at 158.5 Hz, the third octave between.
[[nodiscard]] double absorption_at(const OctaveTable& table, double hz);

// Whether that frequency lies in an octave for which the table has a value.
[[nodiscard]] bool published_at(const OctaveTable& table, double hz);

}  // namespace loftbeat::room
