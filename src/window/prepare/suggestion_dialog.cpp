#include "window/prepare/suggestion_dialog.h"

#include <QButtonGroup>
#include <QDialogButtonBox>
#include <QLabel>
#include <QPushButton>
#include <QRadioButton>
#include <QScrollArea>
#include <QVBoxLayout>

#include "advise/suggestion_words.h"
#include "app/suggested_plan.h"
#include "music/read.h"
#include "report/plan_text.h"
#include "window/desk/words.h"

namespace loftbeat::window {
namespace {

std::string drawn_words(const organ::Organ& organ, const organ::Registration& drawn) {
  std::string told;
  for (const std::size_t stop : drawn.stops)
    told += (told.empty() ? "" : ", ") + organ::full_name(organ, organ.stops[stop]);
  for (const std::size_t coupler : drawn.couplers)
    told += (told.empty() ? "" : ", ") + organ.couplers[coupler].name;
  return told;
}

OfferedPlan offered(const app::CheckedFile& checked, const advise::Suggestion& suggestion,
                    const advise::Suggestion* against) {
  OfferedPlan plan;
  plan.name = advise::name_of(suggestion.leaning);
  plan.gives_up = advise::what_it_gives_up(*checked.context, suggestion, against);
  const auto& passes = checked.planned.route.passes;
  for (std::size_t i = 0; i < passes.size() && i < suggestion.drawn.size(); ++i)
    plan.passes.push_back(report::pass_label(passes[i]) + ": " +
                          drawn_words(checked.data.organ, suggestion.drawn[i]));
  plan.plan = advise::with_registrations(checked.planned.plan, checked.planned.route,
                                         checked.data.organ, suggestion.drawn);
  return plan;
}

}  // namespace

Offer make_offer(const plan::Plan& plan) {
  Offer offer;
  app::CheckedFile checked;
  const auto score = music::read_score(plan.score_path);
  Status status = score ? app::check_value({}, app::settled_plan(plan, score->score), checked)
                        : Status(score.error());
  if (status) status = app::check_ground(checked);
  if (!status) {
    offer.trouble = to_string(status.error());
    return offer;
  }
  const auto suggestions = app::suggestions_for(checked);
  if (!suggestions) {
    offer.trouble = to_string(suggestions.error());
  } else if (!suggestions->unreachable.empty()) {
    offer.trouble =
        to_string(advise::unreachable_error(*checked.context, suggestions->unreachable.front()));
  } else if (suggestions->plans.empty()) {
    offer.trouble = advise::why_none(*checked.context, *suggestions);
  } else {
    const advise::Suggestion* first = nullptr;
    for (const advise::Suggestion& suggestion : suggestions->plans) {
      offer.plans.push_back(offered(checked, suggestion, first));
      if (first == nullptr) first = &suggestion;
    }
  }
  return offer;
}

SuggestionDialog::SuggestionDialog(const Offer& offer, QWidget* parent)
    : QDialog(parent), choices_(new QButtonGroup(this)) {
  setWindowTitle(tr("Suggested registrations"));
  resize(760, 620);
  auto* whole = new QVBoxLayout(this);
  auto* inner = new QWidget;
  auto* column = new QVBoxLayout(inner);
  int id = 0;
  for (const OfferedPlan& plan : offer.plans) {
    auto* choice = new QRadioButton(words(plan.name));
    choice->setAccessibleName(words(plan.name));
    choice->setChecked(id == 0);
    choices_->addButton(choice, id++);
    column->addWidget(choice);
    QString told;
    for (const std::string& pass : plan.passes) told += words(pass) + QLatin1Char('\n');
    for (const std::string& sentence : plan.gives_up)
      told += tr("Gives up: %1").arg(words(sentence)) + QLatin1Char('\n');
    auto* label = new QLabel(told.trimmed());
    label->setWordWrap(true);
    label->setIndent(28);
    column->addWidget(label);
  }
  column->addStretch(1);
  auto* area = new QScrollArea;
  area->setWidgetResizable(true);
  area->setFrameShape(QFrame::NoFrame);
  area->setWidget(inner);
  whole->addWidget(area);
  auto* buttons = new QDialogButtonBox;
  buttons->addButton(tr("&Take this one"), QDialogButtonBox::AcceptRole);
  buttons->addButton(tr("&Leave it"), QDialogButtonBox::RejectRole);
  connect(buttons, &QDialogButtonBox::accepted, this, &QDialog::accept);
  connect(buttons, &QDialogButtonBox::rejected, this, &QDialog::reject);
  whole->addWidget(buttons);
}

int SuggestionDialog::chosen() const { return choices_->checkedId(); }

}  // namespace loftbeat::window
