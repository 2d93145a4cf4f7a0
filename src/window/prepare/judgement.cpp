#include "window/prepare/judgement.h"

#include <utility>

#include "advise/plan_sentences.h"
#include "app/measured_plan.h"
#include "music/read.h"

namespace loftbeat::window {

Judgement judge(const plan::Plan& plan) {
  Judgement judged;
  auto checked = std::make_shared<app::CheckedFile>();
  const auto score = music::read_score(plan.score_path);
  if (!score) {
    judged.trouble = to_string(score.error());
    return judged;
  }
  const Status status = app::check_value({}, app::settled_plan(plan, score->score), *checked);
  if (!status) {
    judged.trouble = to_string(status.error());
    return judged;
  }
  for (const advise::PlanFinding& finding : checked->check.findings)
    judged.findings.push_back({finding.join >= 0 ? finding.join + 1 : finding.pass,
                               advise::is_note(finding.fault),
                               advise::sentence(*checked->context, finding)});
  judged.moves.resize(checked->planned.route.passes.size());
  for (const advise::JoinWork& work : checked->check.joins)
    if (work.join >= 0)
      judged.moves[static_cast<std::size_t>(work.join) + 1] =
          advise::describe(*checked->context, work);
  if (checked->data.church && checked->data.people > 0) {
    auto measures = app::measures_of(checked->planned, checked->data);
    if (measures) judged.measures = std::move(*measures);
  }
  judged.checked = std::move(checked);
  return judged;
}

}  // namespace loftbeat::window
