#pragma once

#include <optional>
#include <vector>

#include "timing/beats.h"
#include "timing/measures.h"
#include "timing/pulse.h"
#include "timing/slowing.h"

namespace loftbeat::timing {

// One pass of the alignment with its beats and its pulse: what all later measures start from.
struct FittedPass {
  const follow::AlignedPass* pass = nullptr;  // lives as long as the alignment
  PassWay way;
  std::vector<StruckPlace> struck;
  std::vector<GridBeat> grid;
  Pulse pulse;
  // Set if the pass surely slows at its end without a plan: then the slowed beats are no ruler.
  std::optional<EndSlowing> slowing;
};

// One pass by itself.
[[nodiscard]] FittedPass fit_pass(const Question& question, const follow::AlignedPass& pass);

// All passes of the alignment. A player's jitter is a habit: no pass counts with less than the
// median jitter of all, since a few beats may lie well by chance.
[[nodiscard]] std::vector<FittedPass> fit_passes(const Question& question);

// The slowing at a pass's end, sure or not; nothing where a broadening is planned.
[[nodiscard]] std::optional<EndSlowing> slowing_of(const Question& question,
                                                   const std::vector<FittedPass>& passes,
                                                   std::size_t pass);

// The first verse after a pass in the same run, if there is one.
[[nodiscard]] std::optional<std::size_t> next_verse(const std::vector<FittedPass>& passes,
                                                    std::size_t pass);

// Slope of a verse's first phrase, or of as many phrases as it takes to have five struck beats.
// Requires a known pulse.
[[nodiscard]] std::optional<Slope> opening_slope(const Question& question, const FittedPass& verse);

// What one beat of a pass that has ended lasts: the pulse at its end, or before the slowing.
struct Ruler {
  double period_s = 0;
  double uncertainty_s = 0;
};
// Requires a known pulse.
[[nodiscard]] Ruler end_ruler(const FittedPass& pass);

// True for passes whose breaths and joins are compared with each other.
[[nodiscard]] bool is_verse(const follow::AlignedPass& pass);

}  // namespace loftbeat::timing
