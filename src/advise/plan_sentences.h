#pragma once

#include <string>

#include "advise/plan_check.h"

namespace loftbeat::advise {

// Plain sentences for the player. `context` must have an organ where the finding names controls.

// What is wrong, the figure it rests on, and the smallest mend. For example
//   Before verse 3: draw and push in at once on the right. One go of one hand does one of them;
//   leave Great Dulciana 8 as it is.
[[nodiscard]] std::string sentence(const CheckContext& context, const PlanFinding& finding);

// "right hand: draw Great Principal 4, Great Fifteenth 2", "piston General 2 (thumb)", ...
[[nodiscard]] std::string describe(const organ::Organ& organ, const Movement& movement);

// A pedal's move: "Swell box to 60 %", "crescendo pedal to 3".
[[nodiscard]] std::string describe(const organ::Organ& organ, const organ::ConsoleMove& pedal);

// One line for one join: what moves, time needed, time there is. "Nothing moves." without work.
[[nodiscard]] std::string describe(const CheckContext& context, const JoinWork& join);

// "before verse 2", "before the Amen"; "in the play-over", "in verse 1".
[[nodiscard]] std::string place_of(const CheckContext& context, const PlanFinding& finding);

// "Great Open Diapason 8", "Swell to Great", "Swell Tremulant", "General 1".
[[nodiscard]] std::string name_of(const organ::Organ& organ, const organ::ConsoleMove& move);

}  // namespace loftbeat::advise
