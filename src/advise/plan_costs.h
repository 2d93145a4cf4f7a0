#pragma once

#include <optional>
#include <vector>

#include "advise/plan_check.h"
#include "plan/plan.h"

namespace loftbeat::advise {

// What a planner of registrations weighs. All weights are assumptions: 1 is a pass that is half or
// twice as loud as wished, or 0.3 acum off.

// The figures wished for a pass; what is not wished is not weighed.
struct Wanted {
  std::optional<double> sone;
  std::optional<double> acum;
  std::optional<double> lead_sone;
};

// From the softest to the loudest and from the dullest to the brightest that an organ can do in a
// pass.
struct SoundRange {
  double least_sone = 0;
  double most_sone = 0;
  double least_acum = 0;
  double most_acum = 0;
  double least_lead = 0;
  double most_lead = 0;
};

// A figure wished that nothing in the range comes near.
struct BeyondReach {
  enum class What { lead, sharpness } what = What::lead;
  double wished = 0;
  double least = 0;  // what the range has
  double most = 0;
};
// The figures of a wish that lie outside the range by more than a change that is heard (limits'
// heard_ratio for lead, heard_acum for sharpness): what lies nearer sounds as wished, for all that
// anyone can tell. Lead below 1 sone counts as 1. Words are within every range.
// Worked number: of 4 to 20 sone, 22.9 is within reach (20 x 1.15 = 23), 23.1 is not.
[[nodiscard]] std::vector<BeyondReach> beyond_reach(const plan::Wish& wish, const SoundRange& range,
                                                    const CheckLimits& limits);

// A word as figures: so far up the range, of loudness by ratios (the middle between 10 and 40 sone
// is 20), of sharpness by differences. Assumptions:
//   quiet   0.1 of loudness, 0.2 of sharpness
//   plain   0.5, 0.4
//   bright  0.6, 0.8
//   full    0.95, 0.7
// Figures are taken as they are, whatever the range.
[[nodiscard]] Wanted wanted(const plan::Wish& wish, const SoundRange& range);
// To sound as this does.
[[nodiscard]] Wanted wanted_like(const Heard& heard);

// How far from what is wanted, 0 or more: the sum of the squares of log2(sone / wanted),
// (acum - wanted) / 0.3 and log2(lead / wanted); loudness and lead below 1 sone count as 1.
// Worked number: 20 sone and 1.3 acum where 40 and 1.0 are wanted: 1 + 1 = 2.
[[nodiscard]] double distance(const Wanted& wanted, const Heard& heard);

// What a join costs beyond what is forbidden.
inline constexpr double kHandCost = 0.2;      // a hand leaves the keys
inline constexpr double kPistonCost = 0.1;    // a piston or a helper
inline constexpr double kControlCost = 0.02;  // for each control or swell pedal that moves
// Doubled upper pitches are spared (common practice, no source), for each pass that has them.
inline constexpr double kDoubledCost = 0.05;

// The cost of a join that stands the check. `moved`: how many stops, couplers and tremulants
// differ, those prepared too. `plan` tells whether a helper moves them.
[[nodiscard]] double move_cost(const JoinWork& join, std::size_t moved, const plan::Plan& plan);

}  // namespace loftbeat::advise
