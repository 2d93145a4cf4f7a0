#include "advise/plan_costs.h"

#include <algorithm>
#include <cmath>

namespace loftbeat::advise {
namespace {

constexpr double kAcumUnit = 0.3;

// How far up the range a word lies, 0 to 1.
struct Height {
  double loudness = 0;
  double sharpness = 0;
};

Height height_of(plan::WishKind kind) {
  switch (kind) {
    case plan::WishKind::quiet: return {0.1, 0.2};
    case plan::WishKind::bright: return {0.6, 0.8};
    case plan::WishKind::full: return {0.95, 0.7};
    case plan::WishKind::plain:
    case plan::WishKind::figures: break;
  }
  return {0.5, 0.4};
}

double doublings(double sone, double wanted) {
  return std::log2(std::max(sone, 1.0) / std::max(wanted, 1.0));
}

}  // namespace

Wanted wanted(const plan::Wish& wish, const SoundRange& range) {
  if (wish.kind == plan::WishKind::figures) {
    return {std::nullopt, wish.sharpness_acum, wish.lead_sone};
  }
  const Height height = height_of(wish.kind);
  const double least = std::max(range.least_sone, 1.0);
  const double most = std::max(range.most_sone, least);
  return {least * std::pow(most / least, height.loudness),
          range.least_acum + height.sharpness * (range.most_acum - range.least_acum), std::nullopt};
}

std::vector<BeyondReach> beyond_reach(const plan::Wish& wish, const SoundRange& range,
                                      const CheckLimits& limits) {
  std::vector<BeyondReach> beyond;
  if (wish.kind != plan::WishKind::figures) return beyond;
  constexpr double kRounding = 1e-9;
  if (wish.lead_sone) {
    const double wished = std::max(*wish.lead_sone, 1.0);
    const double least = std::max(range.least_lead, 1.0) / limits.heard_ratio;
    const double most = std::max(range.most_lead, 1.0) * limits.heard_ratio;
    if (wished < least - kRounding || wished > most + kRounding)
      beyond.push_back(
          {BeyondReach::What::lead, *wish.lead_sone, range.least_lead, range.most_lead});
  }
  if (wish.sharpness_acum) {
    const double wished = *wish.sharpness_acum;
    if (wished < range.least_acum - limits.heard_acum - kRounding ||
        wished > range.most_acum + limits.heard_acum + kRounding)
      beyond.push_back({BeyondReach::What::sharpness, wished, range.least_acum, range.most_acum});
  }
  return beyond;
}

Wanted wanted_like(const Heard& heard) { return {heard.sone, heard.sharpness_acum, std::nullopt}; }

double distance(const Wanted& wanted, const Heard& heard) {
  const auto square = [](double value) { return value * value; };
  double sum = 0;
  if (wanted.sone) sum += square(doublings(heard.sone, *wanted.sone));
  if (wanted.acum) sum += square((heard.sharpness_acum.value_or(0) - *wanted.acum) / kAcumUnit);
  if (wanted.lead_sone) sum += square(doublings(heard.over.lead_sone, *wanted.lead_sone));
  return sum;
}

double move_cost(const JoinWork& join, std::size_t moved, const plan::Plan& plan) {
  double cost = kControlCost * static_cast<double>(moved + join.work.swells.size());
  if (join.work.movements.empty()) return cost;
  return cost + (plan.helper || join.work.by_hand() == 0 ? kPistonCost : kHandCost);
}

}  // namespace loftbeat::advise
