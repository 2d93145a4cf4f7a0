#include <algorithm>

#include "timing/joins.h"

namespace loftbeat::timing {

namespace {

// What lies on the route between two of its passes.
struct Between {
  bool interlude = false;
  bool unaccompanied = false;
  bool other = false;  // a pass that was not played
};

Between passes_between(const plan::Route& route, int before, int after) {
  Between between;
  for (int i = before + 1; i < after; ++i) {
    const plan::RoutePass& pass = route.passes[static_cast<std::size_t>(i)];
    if (pass.kind == plan::PassKind::interlude)
      between.interlude = true;
    else if (pass.unaccompanied)
      between.unaccompanied = true;
    else
      between.other = true;
  }
  return between;
}

// True if something that is not the tune was played after the pass and before the next.
bool plays_aside(const follow::Alignment& alignment, std::size_t pass) {
  return std::any_of(alignment.asides.begin(), alignment.asides.end(), [&](const auto& aside) {
    return aside.after_pass == static_cast<int>(pass) && !aside.amen;
  });
}

plan::RoutePass as_route_pass(const follow::AlignedPass& pass) {
  plan::RoutePass out;
  out.label = pass.label;
  out.kind = pass.kind;
  out.spans = pass.spans;
  return out;
}

void use(const plan::RouteJoin& planned, JoinPlan& out) {
  out.join = planned.join;
  out.with_interlude = out.with_interlude || planned.with_interlude;
  out.span_beats = planned.span_beats ? Measured<double>(*planned.span_beats)
                                      : Measured<double>::unknown("no join is planned");
}

}  // namespace

JoinPlan plan_of_join(const Question& question, std::size_t before_index, std::size_t after_index) {
  const follow::AlignedPass& before = question.alignment.passes[before_index];
  const follow::AlignedPass& after = question.alignment.passes[after_index];
  const plan::Route& route = question.route;
  JoinPlan out;
  out.after_play_over = before.kind == plan::PassKind::play_over;
  const bool on_route = before.route_pass >= 0 && after.route_pass > before.route_pass;
  const Between between =
      on_route ? passes_between(route, before.route_pass, after.route_pass) : Between{};
  const bool aside = plays_aside(question.alignment, before_index);
  out.with_interlude = between.interlude || aside;
  const auto index = static_cast<std::size_t>(std::max(before.route_pass, 0));
  if (between.unaccompanied)
    out.span_beats = Measured<double>::unknown("a verse without organ lies between");
  else if (aside && !between.interlude)
    out.span_beats = Measured<double>::unknown("an interlude that was not planned lies between");
  else if (on_route && !between.other && index < route.joins.size())
    use(route.joins[index], out);
  else
    use(plan::plan_join(question.plan, question.score, as_route_pass(before), as_route_pass(after)),
        out);
  out.comparable = !out.after_play_over && !out.with_interlude && !between.unaccompanied;
  return out;
}

}  // namespace loftbeat::timing
