#pragma once

// Private to plan/: the keys of a registration, which the plan and its passes have alike.

#include "base/toml_document.h"
#include "plan/plan.h"

namespace loftbeat::plan {

[[nodiscard]] RegistrationPlan registration_from(const TomlTable& table);

}  // namespace loftbeat::plan
