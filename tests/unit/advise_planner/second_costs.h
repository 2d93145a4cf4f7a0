#pragma once

// What a plan costs, written down a second time for the tests: nothing of the planner is used but
// the list of candidates, and nothing of its search.

#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>
#include <vector>

#include "random_case.h"

namespace loftbeat::advise {

constexpr double kNever = 1e300;

inline bool is_finding(const PlanFinding& finding) {
  return !is_note(finding.fault) && finding.fault != PlanFault::long_breath;
}
inline bool clean(const std::vector<PlanFinding>& findings) {
  return std::none_of(findings.begin(), findings.end(), is_finding);
}

struct Goal {
  double sone = -1;
  double acum = -1;
  double lead = -1;
};

inline double off(const Goal& goal, const Heard& heard) {
  const auto octaves = [](double is, double wanted) {
    const double ratio = std::log(std::max(is, 1.0) / std::max(wanted, 1.0)) / std::log(2.0);
    return ratio * ratio;
  };
  double sum = goal.sone < 0 ? 0 : octaves(heard.sone, goal.sone);
  if (goal.acum >= 0) sum += std::pow((*heard.sharpness_acum - goal.acum) / 0.3, 2);
  if (goal.lead >= 0) sum += octaves(heard.over.lead_sone, goal.lead);
  return sum;
}

// Everything costed by itself.
class SecondCosts {
 public:
  explicit SecondCosts(const RandomCase& at) : at_(at) {
    family_ = chorus_family(at.organ, {at.question.held, at.question.barred, {}});
    passes_ = at.route.passes.size();
    for (std::size_t p = 0; p < passes_; ++p) weigh(p);
    for (std::size_t p = passes_; p-- > 0;) add_goal(p);
  }

  [[nodiscard]] std::size_t passes() const { return passes_; }
  [[nodiscard]] std::size_t candidates() const { return family_.size(); }
  [[nodiscard]] const organ::Registration& candidate(std::size_t c) const { return family_[c]; }
  // kNever where it may not stand.
  [[nodiscard]] double of_pass(std::size_t p, std::size_t c) const { return pass_cost_[p][c]; }
  // Of going from `a` in pass p to `b` in the next; requires that both may stand.
  [[nodiscard]] double of_join(std::size_t p, std::size_t a, std::size_t b) const {
    return joined(p, a, b);
  }

 private:
  void weigh(std::size_t p) {
    heard_.emplace_back();
    pass_cost_.emplace_back();
    for (const organ::Registration& drawn : family_) {
      const auto measured = measure_registration(at_.question.place, drawn, at_.context.sounds[p]);
      const auto findings = check_pass(at_.context, p, drawn, &measured);
      const bool doubled = std::any_of(
          findings.begin(), findings.end(),
          [](const PlanFinding& one) { return one.fault == PlanFault::doubled_upper_pitch; });
      const bool stands = !measured.silent && clean(findings);
      pass_cost_.back().push_back(!stands ? kNever : doubled ? 0.05 : 0);
      heard_.back().push_back(measured);
    }
  }

  [[nodiscard]] Goal goal_of(std::size_t p) {
    std::optional<plan::Wish> wish;
    if (p > 0) wish = at_.plan.verse_plans.at(static_cast<int>(p)).wish;
    if (p == 0) return goals_[1];
    if (!wish) wish = plan::Wish{};
    if (wish->kind == plan::WishKind::figures)
      return {-1, wish->sharpness_acum.value_or(-1), wish->lead_sone.value_or(-1)};
    double low = kNever;
    double high = 0;
    double dull = kNever;
    double keen = 0;
    for (std::size_t c = 0; c < family_.size(); ++c) {
      if (pass_cost_[p][c] >= kNever) continue;
      const Heard& heard = heard_[p][c].heard;
      low = std::min(low, heard.sone);
      high = std::max(high, heard.sone);
      dull = std::min(dull, *heard.sharpness_acum);
      keen = std::max(keen, *heard.sharpness_acum);
    }
    const double up = wish->kind == plan::WishKind::quiet    ? 0.1
                      : wish->kind == plan::WishKind::bright ? 0.6
                      : wish->kind == plan::WishKind::full   ? 0.95
                                                             : 0.5;
    const double sharp = wish->kind == plan::WishKind::quiet    ? 0.2
                         : wish->kind == plan::WishKind::bright ? 0.8
                         : wish->kind == plan::WishKind::full   ? 0.7
                                                                : 0.4;
    low = std::max(low, 1.0);
    high = std::max(high, low);
    return {std::exp((1 - up) * std::log(low) + up * std::log(high)), dull + sharp * (keen - dull),
            -1};
  }

  void add_goal(std::size_t p) {
    goals_.resize(passes_);
    if (std::all_of(pass_cost_[p].begin(), pass_cost_[p].end(),
                    [](double cost) { return cost >= kNever; }))
      return;
    goals_[p] = goal_of(p);
    for (std::size_t c = 0; c < family_.size(); ++c) {
      if (pass_cost_[p][c] < kNever) pass_cost_[p][c] += off(goals_[p], heard_[p][c].heard);
    }
  }

  [[nodiscard]] double joined(std::size_t p, std::size_t a, std::size_t b) const {
    const MeasuredRegistration& before = heard_[p][a];
    const MeasuredRegistration& after = heard_[p + 1][b];
    double sum = 0;
    if (p == 0) {
      if (!check_play_over(at_.context, 0, before, after).empty()) return kNever;
      sum = off({after.heard.sone, *after.heard.sharpness_acum, -1}, before.heard);
    }
    if (a == b) return sum;
    const JoinCheck check = check_join(at_.context, p, family_[a], family_[b], &before, &after);
    if (!clean(check.findings)) return kNever;
    for (const auto& [one, other] : {std::pair(&family_[a].stops, &family_[b].stops),
                                     std::pair(&family_[a].couplers, &family_[b].couplers)}) {
      for (const std::size_t x : *one)
        sum += 0.02 * (std::count(other->begin(), other->end(), x) ? 0 : 1);
      for (const std::size_t x : *other)
        sum += 0.02 * (std::count(one->begin(), one->end(), x) ? 0 : 1);
    }
    bool moves = false;
    bool hand = false;
    for (const Movement& movement : check.work.work.movements) {
      moves = true;
      hand = hand || !(movement.kind == Movement::Kind::thumb_piston ||
                       movement.kind == Movement::Kind::toe_piston);
    }
    if (moves) sum += hand && !at_.plan.helper ? 0.2 : 0.1;
    return sum;
  }

  const RandomCase& at_;
  std::size_t passes_ = 0;
  std::vector<organ::Registration> family_;
  std::vector<std::vector<MeasuredRegistration>> heard_;
  std::vector<std::vector<double>> pass_cost_;
  std::vector<Goal> goals_;
};

}  // namespace loftbeat::advise
