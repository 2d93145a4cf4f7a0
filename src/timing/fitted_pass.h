#pragma once

#include <vector>

#include "timing/beats.h"
#include "timing/measures.h"
#include "timing/pulse.h"

namespace loftbeat::timing {

// One pass of the alignment with its beats and its pulse: what all later measures start from.
struct FittedPass {
  const follow::AlignedPass* pass = nullptr;  // lives as long as the alignment
  PassWay way;
  std::vector<StruckPlace> struck;
  std::vector<GridBeat> grid;
  Pulse pulse;
};

[[nodiscard]] FittedPass fit_pass(const Question& question, const follow::AlignedPass& pass);

// True for passes whose breaths and joins are compared with each other.
[[nodiscard]] bool is_verse(const follow::AlignedPass& pass);

}  // namespace loftbeat::timing
