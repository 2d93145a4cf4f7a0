#include "advise/stop_verdicts.h"

namespace loftbeat::advise {
namespace {

using timing::JoinVerdict;

bool came_late(const JoinOutcome& join) {
  switch (join.verdict) {
    case JoinVerdict::late: return true;
    case JoinVerdict::unlike: return join.too_long;
    case JoinVerdict::miscounted:
    case JoinVerdict::in_time:
    case JoinVerdict::alike:
    case JoinVerdict::early:
    case JoinVerdict::cannot_tell: break;
  }
  return false;
}

// In time, or at least not surely out of it.
bool is_excused(JoinVerdict verdict) {
  return verdict == JoinVerdict::in_time || verdict == JoinVerdict::alike ||
         verdict == JoinVerdict::cannot_tell;
}

}  // namespace

std::optional<StopJudgement> judge_stop_move(const JoinOutcome& join, const MoveFacts& facts) {
  switch (facts.when) {
    case MoveWhen::none:
      if (!facts.planned) return std::nullopt;
      return StopJudgement{StopVerdict::left_out, !is_excused(join.verdict)};
    case MoveWhen::after: return StopJudgement{StopVerdict::after_the_beat, facts.planned};
    case MoveWhen::before: break;
  }
  if (facts.heard) return StopJudgement{StopVerdict::heard_in_the_chord, true};
  if (facts.past_entry && came_late(join)) return StopJudgement{StopVerdict::cost_the_beat, true};
  return StopJudgement{StopVerdict::clean, false};
}

}  // namespace loftbeat::advise
