#include "plan/registration.h"

#include "plan/words.h"

namespace loftbeat::plan {

RegistrationPlan completed(const RegistrationPlan& own, const RegistrationPlan& defaults) {
  RegistrationPlan whole = own;
  if (!whole.stops) whole.stops = defaults.stops;
  if (!whole.couplers) whole.couplers = defaults.couplers;
  if (!whole.tremulants) whole.tremulants = defaults.tremulants;
  if (!whole.swell && !whole.swell_of) {
    whole.swell = defaults.swell;
    whole.swell_of = defaults.swell_of;
  }
  if (!own.stops || whole.line == 0) whole.line = defaults.line;
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

}  // namespace loftbeat::plan
