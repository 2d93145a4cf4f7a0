#pragma once

#include <vector>

#include "timing/joins.h"

namespace loftbeat::timing {

// Splits the error of a join and judges it by the rules in timing/joins.h.
void judge_planned(const plan::Tolerances& tolerances, double period_s, JoinMeasures& join);

// What the likeness of unplanned joins is judged by: period of each join's ended pass, and whether
// it may be compared.
struct Comparable {
  std::size_t join = 0;  // index into the joins
  double period_s = 0;
};

// Puts likeness_beats into all comparable joins, and judges those that have no plan.
void judge_likeness(const plan::Tolerances& tolerances, const std::vector<Comparable>& comparable,
                    std::vector<JoinMeasures>& joins);

}  // namespace loftbeat::timing
