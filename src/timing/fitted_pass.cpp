#include "timing/fitted_pass.h"

namespace loftbeat::timing {

FittedPass fit_pass(const Question& question, const follow::AlignedPass& pass) {
  FittedPass fitted{&pass, PassWay(pass, plan::ticks(question.plan.beat)), {}, {}, {}};
  fitted.struck = struck_places(pass, fitted.way);
  fitted.grid = beat_grid(question.score, fitted.way, fitted.struck);
  fitted.pulse = find_pulse({question.score, question.route, pass, fitted.way, fitted.grid});
  return fitted;
}

bool is_verse(const follow::AlignedPass& pass) { return pass.kind == plan::PassKind::verse; }

}  // namespace loftbeat::timing
