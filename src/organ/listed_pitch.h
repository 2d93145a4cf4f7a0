#pragma once

// Private to organ/: one stop of a stop list, taken apart.

#include <optional>
#include <string>
#include <string_view>

namespace loftbeat::organ {

struct NamedPitch {
  std::string name;
  std::string pitch;         // "8", "2 2/3", "III"; empty where none was found
  double feet = 0;           // 0 for a mixture
  std::size_t pitch_at = 0;  // bytes from the beginning of the text to the pitch
};
// "Open Diapason 8'" -> name and pitch; "Mixture 3 ranks" -> "Mixture", "III".
[[nodiscard]] NamedPitch named_pitch(std::string_view text);

// Whether a rank of pipes can have it: a whole number of octaves from 8', 2 2/3' or 1 3/5', from
// 1/2' to 64'.
[[nodiscard]] bool is_usual_pitch(double feet);
// An octave of 8', so neither fifth nor third.
[[nodiscard]] bool is_octave_pitch(double feet);

}  // namespace loftbeat::organ
