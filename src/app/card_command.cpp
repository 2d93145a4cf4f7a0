#include "app/card_command.h"

#include <memory>
#include <vector>

#include <fmt/format.h>

#include "app/checked_plan.h"
#include "app/endings.h"
#include "app/player_option.h"
#include "base/file.h"
#include "plan/service.h"
#include "report/print/card_pdf.h"
#include "report/report.h"

namespace loftbeat::app {
namespace {

struct Cards {
  std::string title;
  std::vector<report::Card> cards;
};

report::CheckedPlan shown_plan(const CheckedFile& checked) {
  report::CheckedPlan shown;
  shown.title = title_of(checked);
  shown.context = &*checked.context;
  shown.check = &checked.check;
  shown.drawn = checked.planned.registrations;
  shown.church = checked.data.church ? checked.data.church->name : "";
  return shown;
}

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

Result<Cards> cards_of(const PlanOrder& order) {
  if (is_service(order.path)) return cards_of_service(order);
  CheckedFile checked;
  if (const Status status = check_file(order, order.path, checked); !status) return status.error();
  return Cards{title_of(checked), {card_of_plan(checked, "", nullptr)}};
}

// The file of page `page`, from 0: "card.svg", "card-2.svg".
std::string page_path(const std::string& path, std::size_t page) {
  if (page == 0) return path;
  return path.substr(0, path.size() - 4) + fmt::format("-{}.svg", page + 1);
}

Status write_pictures(const std::string& path, const Cards& cards) {
  std::size_t count = 0;
  for (const report::Card& card : cards.cards) {
    for (const report::CardPage& page : report::lay_out_card(card)) {
      const Status status =
          loftbeat::write_file(page_path(path, count++), report::card_svg(page, card.title));
      if (!status) return status;
    }
  }
  return {};
}

Status write_cards(const std::string& path, const Cards& cards) {
  if (path.ends_with(".svg")) return write_pictures(path, cards);
  if (!path.ends_with(".pdf"))
    return loftbeat::write_file(path, report::cards_html(cards.cards, cards.title));
  const Result<std::string> pdf = report::cards_pdf(cards.cards, cards.title);
  if (!pdf) return pdf.error();
  return loftbeat::write_file(path, *pdf);
}

}  // namespace

int run_card(const CardOrder& order) {
  const Result<Cards> cards = cards_of(order.plan);
  if (!cards) return fail(cards.error());
  const Status status = write_cards(order.to_path, *cards);
  if (!status) return fail(status.error());
  if (order.plan.player_path.empty() || order.to_path == "-") return kReviewed;
  const Result<advise::PlayerTimes> player = player_to_plan_with(order.plan.player_path);
  if (!player) return fail(player.error());
  const Status said = loftbeat::write_file("-", player_sentence(order.plan.player_path, *player));
  return said ? kReviewed : fail(said.error());
}

}  // namespace loftbeat::app
