#include "app/card_command.h"

#include <vector>

#include <fmt/format.h>

#include "app/cards.h"
#include "app/endings.h"
#include "app/player_option.h"
#include "base/file.h"
#include "report/print/card_pdf.h"
#include "report/report.h"

namespace loftbeat::app {
namespace {

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
