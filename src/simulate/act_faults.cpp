#include "simulate/act_faults.h"

#include <algorithm>

namespace loftbeat::simulate {

Tick place_for_break(const Piece& piece, TickSpan span, Random& random) {
  const Tick beat = plan::ticks(piece.plan.beat);
  std::vector<Tick> found;
  for (const Tick tick : onset_ticks(piece.score)) {
    if (tick >= span.begin + 2 * beat && tick < span.end) found.push_back(tick);
  }
  return found.empty() ? next_onset(onset_ticks(piece.score), span.begin, span.end)
                       : found[random.below(found.size())];
}

namespace {

// Begin of the phrase before `broken`, at least a beat back; else the leg's own begin.
Tick phrase_back(const Piece& piece, TickSpan span, Tick broken) {
  const Tick beat = plan::ticks(piece.plan.beat);
  Tick back = span.begin;
  for (const TickSpan& phrase : phrases_of(piece)) {
    if (span.contains(phrase.begin) && phrase.begin + beat <= broken) back = phrase.begin;
  }
  return back;
}

Tick restart(const Piece& piece, const Fault& fault, Act& act, Random& random) {
  const TickSpan whole = act.legs.back().span;
  const TickSpan middle{whole.begin + whole.length() / 3, whole.end - whole.length() / 6};
  const Tick broken = fault.tick >= 0 ? fault.tick : place_for_break(piece, middle, random);
  const Tick back = fault.back_to >= 0 ? fault.back_to : phrase_back(piece, whole, broken);
  act.legs.back().span.end = broken;
  act.legs.push_back({{back, whole.end}, fault.amount, true, false});
  return broken;
}

Tick start_falsely(const Piece& piece, const Fault& fault, Act& act, Random& random) {
  const TickSpan first = act.legs.front().span;
  const TickSpan part{first.begin, first.begin + first.length() * 2 / 5};
  const Tick broken = fault.tick >= 0 ? fault.tick : place_for_break(piece, part, random);
  act.legs.front() = {first, fault.amount, true, true};
  act.legs.insert(act.legs.begin(), Leg{{first.begin, broken}});
  return broken;
}

Tick leave_out(const Piece& piece, const Fault& fault, Act& act, Random& random) {
  const std::vector<TickSpan> phrases = phrases_of(piece);
  TickSpan gone =
      phrases.size() > 2 ? phrases[1 + random.below(phrases.size() - 2)] : phrases.back();
  for (const TickSpan& phrase : phrases) {
    if (fault.tick >= 0 && phrase.contains(fault.tick)) gone = phrase;
  }
  std::vector<Leg> kept;
  for (const Leg& leg : act.legs) {
    const TickSpan before{leg.span.begin, std::min(leg.span.end, gone.begin)};
    const TickSpan after{std::max(leg.span.begin, gone.end), leg.span.end};
    if (before.length() > 0)
      kept.push_back({before, leg.pause_beats, leg.goes_back, leg.false_start});
    if (after.length() > 0) kept.push_back(Leg{after});
  }
  if (!kept.empty()) act.legs = kept;
  return gone.begin;
}

Tick whole_leg_place(const Piece& piece, const Fault& fault, const Act& act, Random& random) {
  return fault.tick >= 0 ? fault.tick : quiet_beat(piece, act.legs.back().span, random);
}

Tick correct(const Piece& piece, const Fault& fault, Act& act, Random& random) {
  const Tick place = whole_leg_place(piece, fault, act, random);
  const Tick end = act.legs.back().span.end;
  act.corrections.push_back(
      {place, next_onset(onset_ticks(piece.score), place, end), fault.amount});
  return place;
}

std::optional<Tick> apply_in_place(const Piece& piece, const Fault& fault, Act& act,
                                   Random& random) {
  if (act.legs.empty()) return std::nullopt;
  switch (fault.kind) {
    case FaultKind::hesitation: {
      const Tick place = whole_leg_place(piece, fault, act, random);
      act.delays.push_back({place, fault.amount, 0, false});
      return place;
    }
    case FaultKind::pause: {
      const Tick place = whole_leg_place(piece, fault, act, random);
      act.delays.push_back({place, 0, fault.amount, true});
      return place;
    }
    case FaultKind::false_start: return start_falsely(piece, fault, act, random);
    case FaultKind::restart: return restart(piece, fault, act, random);
    case FaultKind::correction: return correct(piece, fault, act, random);
    case FaultKind::phrase_left_out: return leave_out(piece, fault, act, random);
    default: return std::nullopt;
  }
}

bool apply_to_join(const Fault& fault, Gap& gap) {
  if (fault.kind == FaultKind::count_slip) {
    gap.count_slip += static_cast<int>(fault.amount);
    return true;
  }
  if (fault.kind == FaultKind::phase_slip) {
    gap.phase_slip += fault.amount;
    return true;
  }
  return false;
}

bool apply_to_whole(const Fault& fault, Act& act) {
  switch (fault.kind) {
    case FaultKind::slowing: act.slowing_percent += fault.amount; return true;
    case FaultKind::dragging: act.drag_percent += fault.amount; return true;
    case FaultKind::off_tempo:
    case FaultKind::cold: act.tempo_factor *= 1 + fault.amount / 100; return true;
    case FaultKind::late_feet: act.pedal_lag_ms += fault.amount; return true;
    case FaultKind::late_left: act.left_lag_ms += fault.amount; return true;
    case FaultKind::smear:
      act.smear_ms = fault.amount;
      act.smear_share = fault.share;
      return true;
    case FaultKind::ragged_release: act.ragged_ms = fault.amount; return true;
    case FaultKind::repeats_unstruck: act.unstruck_share = fault.share; return true;
    case FaultKind::timid: act.velocity_factor *= 1 - fault.amount / 100; return true;
    case FaultKind::sustained: act.sustained = true; return true;
    default: return false;
  }
}

}  // namespace

std::optional<Tick> apply_fault(const Piece& piece, const Fault& fault, Act& act, Random& random) {
  if (apply_to_join(fault, act.after) || apply_to_whole(fault, act)) return kAnywhere;
  return apply_in_place(piece, fault, act, random);
}

}  // namespace loftbeat::simulate
