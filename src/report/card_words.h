#pragma once

#include <string>
#include <vector>

#include "advise/desk_step.h"
#include "report/card.h"
#include "report/plan_text.h"

namespace loftbeat::report {

// What a card says of one hymn. `number` as on the hymn board, or empty.
struct CardHymn {
  std::string number;
  CheckedPlan plan;  // its pointers must outlive the call
  std::vector<advise::DeskStep> steps;
  std::string before;  // what moves before the hymn begins, against the one before; may be empty
};

// Top: title, tempo, beats at the joins, what is drawn for the beginning. Then a block for each
// pass: the one thing to do at the join before it, and where to look or what to feel for during
// the line before; its texture and what else is planned there. Last, what to do if it goes wrong.
[[nodiscard]] Card card_of(const CardHymn& hymn);

// What hands and feet do at a join: "LEFT: draw Great Fifteenth 2; FOOT: Swell half open"; empty
// where nothing moves. And what eyes, thumb or foot do in the line before it: "look right, row 4,
// knob 3".
[[nodiscard]] std::string step_words(const organ::Organ& organ, const advise::DeskStep& step);
[[nodiscard]] std::string look_words(const organ::Organ& organ, const advise::DeskStep& step);

// "right, row 4, knob 3"; "above, row 1, tab 5".
[[nodiscard]] std::string spot_words(const advise::Spot& spot);

}  // namespace loftbeat::report
