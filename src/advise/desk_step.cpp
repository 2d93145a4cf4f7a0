#include "advise/desk_step.h"

namespace loftbeat::advise {
namespace {

const Spot* spot_of(const ConsoleMap& console, const organ::ConsoleMove& move) {
  switch (move.what) {
    case organ::ConsoleMove::What::stop: return &console.stops[move.index];
    case organ::ConsoleMove::What::coupler: return &console.couplers[move.index];
    case organ::ConsoleMove::What::tremulant: return &console.tremulants[move.index];
    case organ::ConsoleMove::What::piston:
    case organ::ConsoleMove::What::swell:
    case organ::ConsoleMove::What::crescendo: break;
  }
  return nullptr;
}

std::optional<Spot> first_seen(const ConsoleMap& console, const HandWork& work) {
  for (const Movement& movement : work.movements) {
    if (movement.is_piston() || movement.controls.empty()) continue;
    const Spot* spot = spot_of(console, movement.controls.front());
    if (spot == nullptr || !spot->known) return std::nullopt;
    return *spot;
  }
  return std::nullopt;
}

// What one piston leaves does not depend on what it found where it sets all that is planned.
bool puts_right(const organ::Organ& organ, const JoinWork& later, const organ::Registration& missed,
                const organ::Registration& wanted) {
  const auto& movements = later.work.movements;
  if (movements.size() != 1 || !movements.front().is_piston()) return false;
  const organ::Piston& piston = organ.pistons[movements.front().controls.front().index];
  const organ::Registration left = organ::after_piston(organ, missed, piston);
  return left.stops == wanted.stops && left.couplers == wanted.couplers &&
         left.tremulants == wanted.tremulants;
}

}  // namespace

std::vector<DeskStep> desk_steps(const CheckContext& context, const PlanCheck& check,
                                 const std::vector<organ::Registration>& drawn) {
  std::vector<DeskStep> steps;
  if (context.console == nullptr) return steps;
  for (const JoinWork& join : check.joins) {
    DeskStep step;
    step.join = static_cast<std::size_t>(join.join);
    step.work = join.work;
    step.prepared = join.prepared;
    step.look = first_seen(*context.console, join.work);
    const plan::MovesAt& at = context.joins[step.join].moves_at;
    if (at.kind == plan::MovesAtKind::phrase_end) step.phrase = at.phrase;
    for (const JoinWork& later : check.joins) {
      if (later.join <= join.join || step.work.movements.empty()) continue;
      const organ::Registration& wanted = drawn[static_cast<std::size_t>(later.join) + 1];
      if (!puts_right(*context.console->organ, later, drawn[step.join], wanted)) continue;
      step.put_right_at = static_cast<std::size_t>(later.join);
      break;
    }
    steps.push_back(std::move(step));
  }
  return steps;
}

}  // namespace loftbeat::advise
