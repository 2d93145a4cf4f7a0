#include "plan/registration.h"

#include "plan/words.h"

namespace loftbeat::plan {

RegistrationPlan completed(const RegistrationPlan& own, const RegistrationPlan& defaults) {
  RegistrationPlan whole = own;
  const auto fill = [](auto& own_value, const auto& value, int& own_line, int line) {
    if (own_value) return;
    own_value = value;
    own_line = line;
  };
  fill(whole.stops, defaults.stops, whole.lines.stops, defaults.lines.stops);
  fill(whole.couplers, defaults.couplers, whole.lines.couplers, defaults.lines.couplers);
  fill(whole.tremulants, defaults.tremulants, whole.lines.tremulants, defaults.lines.tremulants);
  fill(whole.crescendo, defaults.crescendo, whole.lines.crescendo, defaults.lines.crescendo);
  if (!whole.swell && !whole.swell_of) {
    whole.swell = defaults.swell;
    whole.swell_of = defaults.swell_of;
    whole.lines.swell = defaults.lines.swell;
  }
  return whole;
}

RegistrationPlan registration_of(const Plan& plan, PassKind kind, int verse) {
  if (kind == PassKind::play_over) {
    return completed(plan.play_over_plan.registration, plan.registration);
  }
  const auto own = plan.verse_plans.find(verse);
  if (kind != PassKind::verse || own == plan.verse_plans.end()) return plan.registration;
  return completed(own->second.registration, plan.registration);
}

RegistrationPlan registration_of(const Plan& plan, const RoutePass& pass) {
  return registration_of(plan, pass.kind, integer_from(pass.label).value_or(0));
}

namespace {

// What the plan says of this very pass; null where it says nothing.
const PassPlan* own_plan(const Plan& plan, const RoutePass& pass) {
  if (pass.kind == PassKind::play_over) return &plan.play_over_plan;
  const auto own = plan.verse_plans.find(integer_from(pass.label).value_or(0));
  return pass.kind == PassKind::verse && own != plan.verse_plans.end() ? &own->second : nullptr;
}

}  // namespace

std::optional<Wish> wish_of(const Plan& plan, const RoutePass& pass) {
  const PassPlan* own = own_plan(plan, pass);
  return own != nullptr && own->wish ? own->wish : plan.wish;
}

MovesAt moves_at_of(const Plan& plan, const RoutePass& pass) {
  const PassPlan* own = own_plan(plan, pass);
  return own != nullptr && own->moves_at ? *own->moves_at : plan.moves_at;
}

}  // namespace loftbeat::plan
