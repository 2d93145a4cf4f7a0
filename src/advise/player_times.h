#pragma once

#include <array>
#include <cstddef>

#include "organ/organ.h"

namespace loftbeat::advise {

// What is done to a control.
enum class Handling { draw, push_in, press_piston };

// How a player's own movements compare with the tables of motion_times.h, by side of the console
// (a piston has none: organ::Side::unknown) and by kind.
struct PlayerTimes {
  struct Learned {
    double factor = 1;     // measured over tabled time, the median of the observations; > 0
    int observations = 0;  // >= 0
  };
  std::array<std::array<Learned, 3>, 4> learned;

  [[nodiscard]] Learned& at(organ::Side side, Handling handling) {
    return learned[static_cast<std::size_t>(side)][static_cast<std::size_t>(handling)];
  }
  [[nodiscard]] const Learned& at(organ::Side side, Handling handling) const {
    return learned[static_cast<std::size_t>(side)][static_cast<std::size_t>(handling)];
  }
};

// Fewer observations than this say nothing of a player.
inline constexpr int kFewestObservations = 3;

// The factor to reckon with: factor ^ (n / (n + 3)), 1 for fewer than three observations. A few
// observations are drawn towards the table, in which the experience of very many hands lies, as if
// three more had been seen that agree with it; in the exponent, so that twice as fast and twice as
// slow are treated alike. Kept within 1/3 to 3: beyond that something else was measured.
// (The weight of three is ours, no source.) Worked number: 1.5 seen 3 times: 1.5 ^ 0.5 = 1.22;
// 12 times: 1.5 ^ 0.8 = 1.38.
[[nodiscard]] double used_factor(const PlayerTimes::Learned& learned);

}  // namespace loftbeat::advise
