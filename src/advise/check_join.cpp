#include <algorithm>
#include <cmath>
#include <set>

#include "advise/plan_check.h"
#include "advise/stop_effects.h"

namespace loftbeat::advise {
namespace {

using organ::ConsoleMove;
using organ::Registration;

PlanFinding at_join(PlanFault fault, std::size_t join, double figure, double limit,
                    std::string unit) {
  PlanFinding finding;
  finding.fault = fault;
  finding.join = static_cast<int>(join);
  finding.figure = figure;
  finding.limit = limit;
  finding.unit = std::move(unit);
  finding.severity = limit > 0 ? figure / limit : 1 + figure;
  return finding;
}

// Whether the hand that this movement takes may leave the last chord.
bool may_leave(const FreeHand& free, Hand hand) {
  if (hand == Hand::none) return true;
  if (hand == Hand::either) return free.any();
  return hand == Hand::left ? free.left : free.right;
}

bool on_silent_division(const organ::Organ& organ, const ConsoleMove& move,
                        const std::vector<bool>& sounds) {
  if (move.what == ConsoleMove::What::stop) return !sounds[organ.stops[move.index].division];
  if (move.what == ConsoleMove::What::tremulant) {
    return !sounds[organ.tremulants[move.index].division];
  }
  return false;
}

bool all_silent(const organ::Organ& organ, const HandWork& work, const std::vector<bool>& sounds) {
  for (const Movement& movement : work.movements) {
    for (const ConsoleMove& move : movement.controls) {
      if (!on_silent_division(organ, move, sounds)) return false;
    }
  }
  return true;
}

// What must lie in the silence of the join. `hand_free`: as if every hand might leave.
double in_lift_s(const HandWork& work, const FreeHand& free, bool hand_free) {
  double sum = 0;
  bool first = true;
  for (const Movement& movement : work.movements) {
    sum += movement.moving_s + movement.back_s;
    if (!first) sum += movement.eyes_s + movement.reach_s;
    if (first && !hand_free && !may_leave(free, movement.hand())) sum += movement.reach_s;
    first = false;
  }
  return sum;
}

// A helper's two hands stand ready; each side goes by itself.
double by_helper_s(const HandWork& work) {
  double left = 0;
  double right = 0;
  for (const Movement& movement : work.movements) {
    (movement.side == organ::Side::left ? left : right) += movement.moving_s;
  }
  return std::max(left, right);
}

class JoinChecker {
 public:
  JoinChecker(const CheckContext& context, std::size_t join, const Registration& before,
              const Registration& after)
      : context_(context),
        facts_(context.joins[join]),
        organ_(*context.console->organ),
        join_(join),
        before_(before),
        after_(after),
        sounds_(sounding_divisions(organ_, before)) {}

  JoinCheck run(const MeasuredRegistration* heard_before, const MeasuredRegistration* heard_after) {
    JoinWork& work = check_.work;
    work.join = static_cast<int>(join_);
    work.window = facts_.window;
    work.hand = facts_.hand;
    Registration from = before_;
    if (facts_.moves_at.kind == plan::MovesAtKind::silent) {
      from = prepared(organ_, before_, after_, sounds_);
      work.prepared = controls_between(before_, from);
    }
    work.work = hand_work(*context_.console, from, after_, context_.player);
    if (work.work.movements.empty()) {
      work.needed_s = 0.0;
      work.needed_lift_s = 0.0;
      if (work.prepared.empty()) return std::move(check_);
    } else {
      measure_time();
      // Beside a verse sung alone, and between hymns, there is time for anything.
      const bool endless = facts_.window && facts_.window->lift_s >= kEndless;
      if (!endless) judge_moves();
      note_places();
    }
    if (heard_before != nullptr && heard_after != nullptr) hear(*heard_before, *heard_after);
    offer_texture();
    return std::move(check_);
  }

 private:
  [[nodiscard]] bool helper() const { return context_.plan->helper; }
  [[nodiscard]] const HandWork& work() const { return check_.work.work; }

  void measure_time() {
    JoinWork& join = check_.work;
    if (helper()) {
      join.needed_s = join.needed_lift_s = by_helper_s(work());
      return;
    }
    join.needed_s = work().seconds();
    const bool silent = all_silent(organ_, work(), sounds_);
    join.needed_lift_s = silent ? 0.0 : in_lift_s(work(), facts_.hand, false);
  }

  void judge_moves() {
    if (!helper() && judge_movements()) return;
    if (facts_.window) return judge_time();
    PlanFinding finding = at_join(PlanFault::time_unknown, join_, *check_.work.needed_s, 0, "s");
    finding.reason = facts_.window.reason;
    finding.mend = Mend::say_join;
    check_.findings.push_back(finding);
  }

  // More than one movement: true if that was found.
  bool judge_movements() {
    const auto& movements = work().movements;
    if (movements.size() < 2) return false;
    PlanFault fault = PlanFault::several_movements;
    if (movements.size() == 2 && work().by_hand() == 2) {
      const bool one_way = movements[0].kind == movements[1].kind;
      const bool one_side =
          movements[0].side == movements[1].side && movements[0].side != organ::Side::unknown;
      if (one_way && !one_side) fault = PlanFault::both_sides;
      if (!one_way && one_side) fault = PlanFault::draw_and_push;
    }
    PlanFinding finding = at_join(fault, join_, static_cast<double>(movements.size()), 1,
                                  fault == PlanFault::both_sides ? "sides" : "movements");
    mend_movements(finding);
    check_.findings.push_back(finding);
    return true;
  }

  // The smallest mend: to prepare what lies on silent divisions, if one movement is left then;
  // else to leave out all but the largest movement.
  void mend_movements(PlanFinding& finding) const {
    if (facts_.moves_at.kind == plan::MovesAtKind::join) {
      const Registration ready = prepared(organ_, before_, after_, sounds_);
      if (hand_work(*context_.console, ready, after_, context_.player).movements.size() <= 1) {
        finding.mend = Mend::prepare;
        finding.controls = controls_between(before_, ready);
        return;
      }
    }
    finding.mend = Mend::leave_out;
    const auto& movements = work().movements;
    // A piston first: it does the most, and without a hand.
    const auto keep = std::max_element(movements.begin(), movements.end(),
                                       [](const Movement& a, const Movement& b) {
                                         return std::pair(a.is_piston(), a.controls.size()) <
                                                std::pair(b.is_piston(), b.controls.size());
                                       });
    for (auto movement = movements.begin(); movement != movements.end(); ++movement) {
      if (movement == keep) continue;
      finding.controls.insert(finding.controls.end(), movement->controls.begin(),
                              movement->controls.end());
    }
  }

  void judge_time() {
    const double margin = context_.limits.time_margin;
    const double whole = margin * *check_.work.needed_s;
    const double lift = margin * *check_.work.needed_lift_s;
    const ChangeWindow& window = *facts_.window;
    if (whole <= window.whole_s && lift <= window.lift_s) return;
    const bool silent = all_silent(organ_, work(), sounds_);
    const double lift_if_free = silent ? 0 : margin * in_lift_s(work(), facts_.hand, true);
    const bool hand_would_do =
        !helper() && whole <= window.whole_s && lift_if_free <= window.lift_s;
    if (hand_would_do) return tell_no_hand();
    const bool lift_is_worse = lift - window.lift_s > whole - window.whole_s;
    const double needed = lift_is_worse ? lift : whole;
    const double there = lift_is_worse ? window.lift_s : window.whole_s;
    PlanFinding finding = at_join(PlanFault::not_enough_time, join_, needed, there, "s");
    finding.reason = lift_is_worse ? "silence" : "join";
    finding.mend = Mend::longer_lift;
    finding.by = std::ceil(2 * (needed - there) / window.beat_s) / 2;
    check_.findings.push_back(finding);
  }

  void tell_no_hand() {
    const auto stretch = static_cast<double>(context_.limits.stretch_semitones);
    PlanFinding finding =
        at_join(PlanFault::no_free_hand, join_, facts_.hand.span_semitones, stretch, "semitones");
    finding.severity = std::max(1.0, finding.severity);
    finding.mend = Mend::longer_lift;
    const ChangeWindow& window = *facts_.window;
    const double missing = context_.limits.time_margin * *check_.work.needed_lift_s - window.lift_s;
    finding.by = std::ceil(2 * missing / window.beat_s) / 2;
    check_.findings.push_back(finding);
  }

  void note_places() {
    if (work().places_known()) return;
    PlanFinding finding = at_join(PlanFault::places_unknown, join_, 0, 0, "");
    finding.mend = Mend::say_places;
    for (const Movement& movement : work().movements) {
      if (movement.places_known) continue;
      finding.controls.insert(finding.controls.end(), movement.controls.begin(),
                              movement.controls.end());
    }
    check_.findings.push_back(finding);
  }

  void hear(const MeasuredRegistration& before, const MeasuredRegistration& after) {
    if (before.silent || after.silent) return;
    const CheckLimits& limits = context_.limits;
    const auto in_phons = [&](double a, double b) {
      // Below a sone neither counts for anything over singing.
      const double ratio = std::max(a, 1.0) / std::max(b, 1.0);
      return std::abs(std::log(ratio)) / std::log(limits.heard_ratio);
    };
    const double loudness = in_phons(before.heard.sone, after.heard.sone);
    const double lead = in_phons(before.heard.over.lead_sone, after.heard.over.lead_sone);
    const Change change = change_between(before.heard, after.heard);
    const double sharpness = std::abs(change.acum.value_or(0)) / limits.heard_acum;
    const double most = std::max({loudness, lead, sharpness});
    if (most >= 1) return;
    // A new texture is heard for what it is, and may want other stops.
    if (!facts_.same_textures || facts_.after_play_over) return;
    PlanFinding finding = at_join(PlanFault::unheard_change, join_, most, 1, "of what is heard");
    finding.severity = 2 - most;
    finding.mend = Mend::change_nothing;
    finding.controls = controls_between(before_, after_);
    check_.findings.push_back(finding);
  }

  void offer_texture() {
    if (!facts_.same_textures || facts_.after_play_over) return;
    const auto wants = [](const PlanFinding& finding) {
      return finding.fault <= PlanFault::unheard_change;
    };
    if (std::none_of(check_.findings.begin(), check_.findings.end(), wants)) return;
    PlanFinding finding = at_join(PlanFault::texture_for_free, join_, 0, 0, "");
    finding.mend = Mend::texture;
    check_.findings.push_back(finding);
  }

  const CheckContext& context_;
  const JoinFacts& facts_;
  const organ::Organ& organ_;
  std::size_t join_;
  const Registration& before_;
  const Registration& after_;
  std::vector<bool> sounds_;
  JoinCheck check_;
};

}  // namespace

JoinCheck check_join(const CheckContext& context, std::size_t join, const Registration& before,
                     const Registration& after, const MeasuredRegistration* heard_before,
                     const MeasuredRegistration* heard_after) {
  return JoinChecker(context, join, before, after).run(heard_before, heard_after);
}

}  // namespace loftbeat::advise
