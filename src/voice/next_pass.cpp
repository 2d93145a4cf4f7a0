#include "voice/next_pass.h"

#include <algorithm>

namespace loftbeat::voice {

plan::RouteJoin join_in_force(const plan::Plan& plan, const music::Score& score,
                              const plan::Route& route, std::size_t index) {
  const plan::RouteJoin& planned = route.joins[index];
  if (planned.join) return planned;
  plan::Plan running = plan;
  running.join = plan::Join{plan::JoinKind::by_the_bar, 0, 0, 0};
  return plan::plan_join(running, score, route.passes[index], route.passes[index + 1]);
}

double next_begin(const plan::Plan& plan, const music::Score& score, const plan::Route& route,
                  std::size_t index, const PassEnd& end, double beat_seconds) {
  if (index + 1 >= route.passes.size()) return end.length;
  const bool interlude = route.passes[index].kind == plan::PassKind::interlude;
  // What an interlude lasts is counted in the join before it.
  if (interlude && index > 0 && join_in_force(plan, score, route, index - 1).span_beats) return 0;
  const plan::RouteJoin join = join_in_force(plan, score, route, index);
  if (!join.span_beats || !end.last_onset) return end.length + kUnplannedLiftBeats * beat_seconds;
  return std::max(*end.last_onset + *join.span_beats * beat_seconds, *end.last_onset);
}

}  // namespace loftbeat::voice
