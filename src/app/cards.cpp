#include "app/cards.h"

#include <memory>
#include <optional>

#include "plan/service.h"
#include "report/report.h"

namespace loftbeat::app {
namespace {

report::Card card_of_plan(const CheckedFile& checked, const std::string& number,
                          const CheckedFile* before) {
  report::CardHymn hymn;
  hymn.number = number;
  hymn.plan = shown_plan(checked);
  hymn.steps = advise::desk_steps(*checked.context, checked.check, checked.planned.registrations);
  const std::optional<advise::HandWork> work =
      before == nullptr ? std::nullopt : work_between(*before, checked);
  if (work) hymn.before = report::between_hymns_words(checked.console, *work);
  return report::card_of(hymn);
}

Result<Cards> cards_of_service(const PlanOrder& order) {
  const Result<plan::Service> service = plan::read_service(order.path);
  if (!service) return service.error();
  Cards cards;
  cards.title = service->title + (service->date.empty() ? "" : ", " + service->date);
  std::unique_ptr<CheckedFile> before;  // a CheckedFile points into itself and stays where it is
  for (const plan::ServiceHymn& hymn : service->hymns) {
    auto checked = std::make_unique<CheckedFile>();
    if (const Status status = check_file(order, hymn.plan_path, *checked); !status)
      return status.error();
    cards.cards.push_back(card_of_plan(*checked, hymn.number, before.get()));
    before = std::move(checked);
  }
  return cards;
}

}  // namespace

Cards cards_of(const CheckedFile& checked) {
  return {title_of(checked), {card_of_plan(checked, "", nullptr)}};
}

Result<Cards> cards_of(const PlanOrder& order) {
  if (is_service(order.path)) return cards_of_service(order);
  CheckedFile checked;
  if (const Status status = check_file(order, order.path, checked); !status) return status.error();
  return cards_of(checked);
}

}  // namespace loftbeat::app
