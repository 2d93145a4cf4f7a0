#pragma once

#include <cstdint>
#include <vector>

#include "advise/one_movement.h"
#include "advise/plan_check.h"

namespace loftbeat::advise {

// Where one may go from each candidate at a join, by index: what one movement may reach
// (one_movement.h), each with itself; or, with `anywhere`, every candidate (`to` is empty).
struct Ways {
  bool prepares = false;  // silent divisions are set beforehand
  bool anywhere = false;
  std::vector<std::vector<std::uint32_t>> to;
};

// Every pair is asked: 4,096 candidates take some tenths of a second. Requires can_tell().
[[nodiscard]] Ways ways_by_one_movement(const OneMovement& one_movement, const organ::Organ& organ,
                                        const std::vector<organ::Registration>& candidates,
                                        const plan::MovesAt& moves_at);

// Whether the check counts the same at two joins, as far as it rests on these facts.
[[nodiscard]] bool alike(const JoinFacts& a, const JoinFacts& b);

}  // namespace loftbeat::advise
