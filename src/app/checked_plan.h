#pragma once

#include <optional>
#include <string>
#include <vector>

#include "advise/advise.h"
#include "app/plan_command.h"
#include "app/sound_data.h"
#include "app/sound_source.h"
#include "report/plan_text.h"

namespace loftbeat::app {

// One plan with all that its check looks at. The check points into it: it stays where it is.
struct CheckedFile {
  SoundData data;
  PlannedSound planned;
  advise::PlayerTimes player;  // set before the check; the tables' if not
  advise::ConsoleMap console;
  std::optional<advise::CheckContext> context;  // with its console, if there is an organ
  advise::PlanCheck check;

  CheckedFile() = default;
  CheckedFile(const CheckedFile&) = delete;
  CheckedFile& operator=(const CheckedFile&) = delete;
};

// Reads a plan and what it names, and checks it; without an organ what can be told of the tune
// alone. Errors: what readers say; stops that the organ does not have.
[[nodiscard]] Status check_file(const PlanOrder& order, const std::string& plan_path,
                                CheckedFile& checked);

// The same of a plan that has been read.
[[nodiscard]] Status check_value(const PlanOrder& order, plan::Plan plan, CheckedFile& checked);

// What moves from the end of one hymn to the beginning of the next; nothing where the two are not
// for one organ.
[[nodiscard]] std::optional<advise::HandWork> work_between(const CheckedFile& before,
                                                           const CheckedFile& after);

// The title of the plan, else of the score.
[[nodiscard]] std::string title_of(const CheckedFile& checked);

// The check to be shown; it points into `checked`.
[[nodiscard]] report::CheckedPlan shown_plan(const CheckedFile& checked);

// Ends with ".service.toml".
[[nodiscard]] bool is_service(const std::string& path);

}  // namespace loftbeat::app
