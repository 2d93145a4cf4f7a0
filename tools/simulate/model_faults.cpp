#include "simulate/model_players.h"
#include "simulate/random.h"

namespace loftbeat::simulate {
namespace {

Fault planted(FaultKind kind, const plan::Plan& plan, Random& random) {
  // Route pass 0 is the play-over, passes 1 to *plan.verses the verses.
  const auto verses = static_cast<std::size_t>(*plan.verses);
  const int verse = 1 + static_cast<int>(random.below(verses));
  // The first verse join is what singers learn by, so one slips at a later one.
  const int later_join = 2 + static_cast<int>(random.below(verses - 2));
  const bool late = random.chance(0.5);
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
  model.player.faults = {planted(fault, model.plan, random)};
  return model;
}

}  // namespace loftbeat::simulate
