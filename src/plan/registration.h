#pragma once

#include "plan/plan.h"
#include "plan/route.h"

namespace loftbeat::plan {

// `own` with everything that it leaves out taken from `defaults`. A swell position for all boxes
// and positions by division are one key: whichever is given replaces both.
[[nodiscard]] RegistrationPlan completed(const RegistrationPlan& own,
                                         const RegistrationPlan& defaults);

// What is drawn in a pass: its own registration completed by the plan's. Interludes and the Amen
// have the plan's. `verse` counts from 1 and matters for verses only.
[[nodiscard]] RegistrationPlan registration_of(const Plan& plan, PassKind kind, int verse = 0);
// The same for a pass of the route, whose label tells its verse.
[[nodiscard]] RegistrationPlan registration_of(const Plan& plan, const RoutePass& pass);

// What is wished for a pass, its own or the plan's, and when its stops are moved. Interludes and
// the Amen have the plan's.
[[nodiscard]] std::optional<Wish> wish_of(const Plan& plan, const RoutePass& pass);
[[nodiscard]] MovesAt moves_at_of(const Plan& plan, const RoutePass& pass);

}  // namespace loftbeat::plan
