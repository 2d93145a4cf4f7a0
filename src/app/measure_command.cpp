#include "app/measure_command.h"

#include <cstdio>

#include "advise/advise.h"
#include "app/endings.h"
#include "app/measured_plan.h"
#include "app/sound_source.h"
#include "app/terminal_choice.h"
#include "base/file.h"
#include "report/report.h"

namespace loftbeat::app {
namespace {

Status check(const SoundData& data) {
  if (!data.church) {
    return wrong_use("--measure needs a church.",
                     "Give --church FILE.church.toml, or write church = \"...\" in the plan.");
  }
  if (data.people < 1) {
    return wrong_use("--measure needs people in the church.",
                     "Give --people N, or write people = N in the plan.");
  }
  return {};
}

Result<advise::PlanMeasures> measured(const SoundOrder& order) {
  const Result<SoundData> data = read_sound_data(order);
  if (!data) return data.error();
  if (const Status status = check(*data); !status) return status.error();
  const Result<PlannedSound> planned = planned_sound(order, *data);
  if (!planned) return planned.error();
  return measures_of(*planned, *data);
}

Status write_files(const advise::PlanMeasures& measures, const SoundOrder& order) {
  if (!order.json_path.empty()) {
    Status status = write_file(order.json_path, report::format_measures_json(measures));
    if (!status) return status;
  }
  if (order.page_path.empty()) return {};
  return write_file(order.page_path, report::format_measures_page(measures));
}

}  // namespace

int run_measure(const SoundOrder& order) {
  const Result<advise::PlanMeasures> measures = measured(order);
  if (!measures) return fail(measures.error());
  if (const Status status = write_files(*measures, order); !status) return fail(status.error());
  if (order.json_path == "-" || order.page_path == "-") return kReviewed;
  const std::string text = report::measure_text(*measures, choose_style(look_at_terminal()));
  const Status shown = write_file("-", text);
  return shown ? kReviewed : fail(shown.error());
}

}  // namespace loftbeat::app
