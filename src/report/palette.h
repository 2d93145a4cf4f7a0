#pragma once

#include <array>

namespace loftbeat::report {

// The page's colours, one set for light and paper, one for dark. Text colours (and the shapes'
// outlines) keep a contrast of 4.5 to 1 or more against both grounds; a test reckons it.
struct Tint {
  const char* name;   // of the CSS variable, after "--"
  const char* light;  // #rrggbb
  const char* dark;
  enum class Use { ground, ink } use;
};

inline constexpr std::array kTints = {
    Tint{"paper", "#fbf9f4", "#16191d", Tint::Use::ground},
    Tint{"card", "#f1ede3", "#20252b", Tint::Use::ground},
    Tint{"ink", "#1c2126", "#ece8df", Tint::Use::ink},
    Tint{"soft", "#565b60", "#aab0b5", Tint::Use::ink},
    Tint{"rule", "#74705f", "#8d9296", Tint::Use::ink},
    Tint{"behind", "#a23a12", "#f0956b", Tint::Use::ink},
    Tint{"ahead", "#17607f", "#71b9da", Tint::Use::ink},
    Tint{"sound", "#3d5a2a", "#a3c586", Tint::Use::ink},
};

}  // namespace loftbeat::report
