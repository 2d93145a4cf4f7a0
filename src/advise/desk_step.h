#pragma once

#include <optional>
#include <vector>

#include "advise/plan_check.h"

namespace loftbeat::advise {

// What a player has to know at one join, for the card on the music desk.
struct DeskStep {
  std::size_t join = 0;  // of the route
  HandWork work;         // at the join, or at the phrase end where the plan moves the stops
  std::vector<organ::ConsoleMove> prepared;  // while the pass before is played, on silent divisions
  // Where the eyes go during the last phrase: the first control that a hand takes; nothing for a
  // piston, which thumb or toe finds by feel, and where its place is not known.
  std::optional<Spot> look;
  int phrase = 0;  // moves at the end of this phrase of the pass before, from 1; 0: at the join
  // If this is missed: the next join whose own planned movement, one piston, leaves exactly what is
  // planned there even so.
  std::optional<std::size_t> put_right_at;

  [[nodiscard]] bool empty() const {
    return work.movements.empty() && work.swells.empty() && prepared.empty();
  }
};

// One step for each join of the plan, in order. `drawn` as for check_plan: one for each pass of the
// route. No organ: no steps. Some microseconds a join.
[[nodiscard]] std::vector<DeskStep> desk_steps(const CheckContext& context, const PlanCheck& check,
                                               const std::vector<organ::Registration>& drawn);

}  // namespace loftbeat::advise
