#include "advise/stop_verdicts.h"

#include <algorithm>
#include <cstdlib>
#include <utility>

#include "advise/chord_change.h"
#include "advise/hand_work.h"
#include "advise/motion_times.h"
#include "plan/registration.h"

namespace loftbeat::advise {
namespace {

using organ::ConsoleMove;
using timing::JoinMeasures;
using timing::JoinVerdict;
using What = ConsoleMove::What;

const Spot& spot_of(const ConsoleMap& console, const ConsoleMove& move) {
  if (move.what == What::coupler) return console.couplers[move.index];
  if (move.what == What::tremulant) return console.tremulants[move.index];
  return console.stops[move.index];
}

double nearest_cm(const ConsoleMap& console) {
  double nearest = 0;
  for (const std::vector<Spot>* spots : {&console.stops, &console.couplers, &console.tremulants}) {
    for (const Spot& spot : *spots) {
      if (nearest <= 0 || reach_cm(spot) < nearest) nearest = reach_cm(spot);
    }
  }
  return nearest;
}

// The hand's way back to the keys after the last control of an event.
double return_s(const StopQuestion& q, const StopEvent& event) {
  if (q.plan.helper) return 0;
  if (event.moves.empty()) return seconds_from_tmu(reach_tmu(Reach::back, nearest_cm(q.console)));
  const ConsoleMove& last = event.moves.back();
  if (last.what == What::piston) return 0;
  const Spot& spot = spot_of(q.console, last);
  const Handling handling = last.value > 0 ? Handling::draw : Handling::push_in;
  return seconds_from_tmu(reach_tmu(Reach::back, reach_cm(spot))) *
         used_factor(q.player.at(spot.side, handling));
}

JoinOutcome outcome_of(const JoinMeasures& join) {
  const Measured<double> error = timing::join_error_ms(join);
  return {join.verdict, error && *error > 0};
}

plan::RoutePass route_pass_of(const follow::AlignedPass& pass) {
  plan::RoutePass made;
  made.label = pass.label;
  made.kind = pass.kind;
  return made;
}

class Judge {
 public:
  Judge(const StopQuestion& q, StopEvents events)
      : q_(q), organ_(*q.console.organ), events_(std::move(events)) {}

  Status run(StopReview& out) {
    std::vector<Instant> instants;
    for (const StopEvent& event : events_.events) instants.push_back(event.at);
    movements_ = timing::movements_of(instants);
    const double stamp_s = seconds(q_.take.stamp_uncertainty);
    const auto placed = timing::place_movements(movements_, q_.joins, stamp_s);
    std::vector<bool> moved(q_.joins.size(), false);
    for (std::size_t j = 0; j < q_.joins.size(); ++j) {
      const Result<bool> planned = is_planned(q_.joins[j]);
      if (!planned) return planned.error();
      for (const timing::PlacedMovement& place : placed) {
        if (place.join != static_cast<int>(j)) continue;
        out.moves.push_back(judged(place, *planned));
        moved[j] = true;
      }
      if (!moved[j]) add_left_out(j, *planned, out);
    }
    out.elsewhere = static_cast<int>(std::count_if(
        placed.begin(), placed.end(), [](const auto& place) { return place.join < 0; }));
    out.comparison = timing::compare_joins(q_.joins, moved);
    out.known = true;
    out.reason.clear();
    return {};
  }

 private:
  const follow::AlignedPass& pass(int index) const {
    return q_.alignment.passes[static_cast<std::size_t>(index)];
  }

  // Whether stops are to move at this very join.
  Result<bool> is_planned(const JoinMeasures& join) const {
    const auto before = planned_in(organ_, q_.plan, pass(join.before));
    if (!before) return before.error();
    const auto after = planned_in(organ_, q_.plan, pass(join.after));
    if (!after) return after.error();
    const auto when = plan::moves_at_of(q_.plan, route_pass_of(pass(join.after)));
    if (when.kind != plan::MovesAtKind::join || controls_between(*before, *after).empty())
      return false;
    const organ::Registration* drawn = drawn_at(join.last_onset_s);
    return drawn == nullptr || !controls_between(*drawn, *after).empty();
  }

  // What the take's messages had drawn by then; null before the first.
  const organ::Registration* drawn_at(double at_s) const {
    const organ::Registration* drawn = nullptr;
    for (const StopEvent& event : events_.events) {
      if (seconds(event.at) > at_s) break;
      drawn = &event.after;
    }
    return drawn;
  }

  // Seconds at which the next pass ought to have come in.
  static Measured<double> entry_s(const JoinMeasures& join) {
    Measured<double> error = timing::join_error_ms(join);
    if (!error) return error;
    return join.onset_s - *error / 1000;
  }

  // Unknown: what sounded, or what was moved.
  Measured<bool> heard(const timing::StopMovement& movement, const JoinMeasures& join) const {
    const Instant next = pass(join.after).first_onset;
    bool unplaced = false;
    for (std::size_t i = movement.begin; i < movement.end; ++i) {
      const StopEvent& event = events_.events[i];
      const HeldChord chord = held_at(q_.take, organ_, event.at, next);
      if (chord.empty()) continue;
      if (event.told == StopEvent::Told::time_only)
        return Measured<bool>::unknown("keys were down, and the mark does not say what moved");
      if (is_heard(organ_, chord, event.before, event.after)) return true;
      unplaced = unplaced || chord.place == HeldChord::Place::unplaced;
    }
    if (unplaced)
      return Measured<bool>::unknown("keys were down on a channel that no division plays on");
    return false;
  }

  JudgedMove judged(const timing::PlacedMovement& place, bool planned) const {
    const timing::StopMovement& movement = movements_[place.movement];
    const JoinMeasures& join = q_.joins[static_cast<std::size_t>(place.join)];
    JudgedMove move;
    move.join = place.join;
    move.when = place.side == timing::MoveSide::after ? MoveWhen::after : MoveWhen::before;
    move.first_s = seconds(movement.first);
    move.last_s = seconds(movement.last);
    move.controls = controls_of(movement);
    move.after_release_ms = (move.last_s - join.release_s) * 1000;
    move.return_s = return_s(q_, events_.events[movement.end - 1]);
    const Measured<double> entry = entry_s(join);
    move.past_entry_ms =
        entry ? Measured<double>((move.last_s + *move.return_s - *entry) * 1000) : entry;
    MoveFacts facts{move.when, planned};
    const double stamp_ms = milliseconds(q_.take.stamp_uncertainty);
    facts.past_entry = move.past_entry_ms && *move.past_entry_ms > stamp_ms;
    if (move.when == MoveWhen::before) {
      const Measured<bool> in_chord = heard(movement, join);
      facts.heard = in_chord && *in_chord;
      if (!in_chord) move.verdict = Measured<StopVerdict>::unknown(in_chord.reason);
      if (!in_chord) return move;
    }
    const StopJudgement judgement = *judge_stop_move(outcome_of(join), facts);
    move.verdict = judgement.verdict;
    move.fault = judgement.fault;
    return move;
  }

  std::string controls_of(const timing::StopMovement& movement) const {
    std::vector<ConsoleMove> moves;
    for (std::size_t i = movement.begin; i < movement.end; ++i) {
      const auto& more = events_.events[i].moves;
      moves.insert(moves.end(), more.begin(), more.end());
    }
    return moves_in_words(organ_, moves);
  }

  void add_left_out(std::size_t join, bool planned, StopReview& out) const {
    const auto judgement = judge_stop_move(outcome_of(q_.joins[join]), {MoveWhen::none, planned});
    if (!judgement) return;
    JudgedMove move;
    move.join = static_cast<int>(join);
    move.verdict = judgement->verdict;
    move.fault = judgement->fault;
    const auto none = Measured<double>::unknown("nothing moved");
    move.after_release_ms = move.return_s = move.past_entry_ms = none;
    out.moves.push_back(std::move(move));
  }

  const StopQuestion& q_;
  const organ::Organ& organ_;
  StopEvents events_;
  std::vector<timing::StopMovement> movements_;
};

}  // namespace

Result<organ::Registration> planned_in(const organ::Organ& organ, const plan::Plan& plan,
                                       const follow::AlignedPass& pass) {
  return organ::resolve(organ, plan::registration_of(plan, route_pass_of(pass)), plan.file);
}

StopReview review_stops(const StopQuestion& question) {
  StopReview review;
  const auto give_up = [&](const std::string& why) {
    review.known = false;
    review.reason = why;
    review.moves.clear();
    return review;
  };
  if (question.alignment.passes.empty()) return give_up("no pass was found");
  const organ::Organ& organ = *question.console.organ;
  const auto drawn = planned_in(organ, question.plan, question.alignment.passes.front());
  if (!drawn) return give_up(to_string(drawn.error()));
  StopEvents events = stop_events(question.raw, organ, *drawn);
  review.notices = events.notices;
  if (!events.why_none.empty()) return give_up(events.why_none);
  const Status done = Judge(question, std::move(events)).run(review);
  if (!done) return give_up(to_string(done.error()));
  return review;
}

}  // namespace loftbeat::advise
