#include "simulate/model_players.h"
#include "simulate/random.h"

namespace loftbeat::simulate {
namespace {

// Beats from the last chord to the next entry at the join after route pass `index`, as planned.
double planned_span(const ModelCase& model, int index) {
  const auto route = plan::make_route(model.plan, model.score);
  if (!route) return 0;
  return route->joins[static_cast<std::size_t>(index)].span_beats.value_or(0);
}

Fault planted(FaultKind kind, const ModelCase& model, Random& random) {
  // Route pass 0 is the play-over, passes 1 to *plan.verses the verses.
  const auto verses = static_cast<std::size_t>(*model.plan.verses);
  const int verse = 1 + static_cast<int>(random.below(verses));
  // The first verse join is what singers learn by, so one slips at a later one.
  const int later_join = 2 + static_cast<int>(random.below(verses - 2));
  // Where the plan leaves little room one can only be late.
  const bool late = random.chance(0.5) || planned_span(model, later_join) < 2.5;
  switch (kind) {
    case FaultKind::count_slip: return {kind, later_join, kAnywhere, late ? 1.0 : -1.0};
    case FaultKind::phase_slip: return {kind, later_join, kAnywhere, late ? 0.42 : -0.42};
    case FaultKind::late_feet: return {kind, kEveryPass, kAnywhere, random.between(70, 90)};
    case FaultKind::smear: {
      Fault fault{kind, verse, kAnywhere, random.between(120, 180)};
      fault.share = 0.3;
      return fault;
    }
    case FaultKind::slowing: return {kind, 0, kAnywhere, random.between(14, 20)};
    default: return {FaultKind::hesitation, verse, kAnywhere, random.between(0.55, 0.8)};
  }
}

}  // namespace

std::vector<FaultKind> model_faults() {
  return {FaultKind::count_slip, FaultKind::phase_slip, FaultKind::late_feet,
          FaultKind::smear,      FaultKind::slowing,    FaultKind::hesitation};
}

ModelCase model_player_with(FaultKind fault, std::uint64_t seed) {
  ModelCase model = model_player(seed);
  Random random(seed, "model fault");
  model.name += " with " + to_string(fault);
  model.player.faults = {planted(fault, model, random)};
  return model;
}

}  // namespace loftbeat::simulate
