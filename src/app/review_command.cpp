#include "app/review_command.h"

#include <cstdio>
#include <filesystem>
#include <utility>

#include "app/endings.h"
#include "app/kept_practice.h"
#include "app/player_option.h"
#include "app/terminal_choice.h"
#include "music/read.h"
#include "organ/read.h"
#include "plan/read.h"
#include "practice/review.h"
#include "report/report.h"
#include "take/smf_take.h"

namespace loftbeat::app {
namespace {

std::string file_name(const std::string& path) { return path.substr(path.find_last_of('/') + 1); }

// What stops moved and how, where the plan names an organ. An organ that cannot be read is no
// reason to keep the rest of the review back; a player file that cannot be kept is.
Status add_stops(const ReviewOrder& order, const practice::PlayerFile& player,
                 const take::Take& take, practice::Review& review) {
  const std::string& path = review.plan.organ_path;
  const auto not_learned = [&]() -> Status {
    if (!order.player_path.empty())
      review.notices.push_back(
          {"nothing is learned: " + review.stops.reason, order.player_path, 0});
    return {};
  };
  if (path.empty()) {
    review.stops.reason = review.plan.file.empty() ? "the review was asked for without a plan file"
                                                   : "the plan names no organ";
    return not_learned();
  }
  const Result<organ::Organ> organ = organ::read_organ(path);
  if (!organ) {
    review.stops.reason = "the organ cannot be read (" + to_string(organ.error()) + ")";
    return not_learned();
  }
  const advise::ConsoleMap console = advise::lay_out(*organ);
  practice::judge_stops(review, take, console, player.times());
  if (order.player_path.empty()) return {};
  return learn_from(review, take, console, order.player_path, player);
}

Result<practice::Review> review_of(const ReviewOrder& order) {
  plan::Plan plan = order.plan;
  if (!order.plan_path.empty()) {
    Result<plan::Plan> read = plan::read_plan(order.plan_path);
    if (!read) return read.error();
    plan = std::move(*read);
  }
  Result<music::ReadScore> score = music::read_score(plan.score_path);
  if (!score) return score.error();
  const Result<take::Take> take = take::read_take(order.take_path);
  if (!take) return take.error();
  practice::PlayerFile player;
  if (!order.player_path.empty()) {
    Result<practice::PlayerFile> read = player_to_learn(order.player_path);
    if (!read) return read.error();
    player = std::move(*read);
  }
  Result<practice::Review> review =
      practice::review(std::move(plan), std::move(*score), *take, file_name(order.take_path));
  if (!review) return review;
  const Status added = add_stops(order, player, *take, *review);
  if (!added) return added.error();
  add_singing(std::filesystem::path(order.take_path).parent_path().string(), *review);
  return review;
}

Status write_files(const practice::Review& review, const ReviewOrder& order) {
  if (!order.json_path.empty()) {
    Status status = write_file(order.json_path, report::format_json(review));
    if (!status) return status;
  }
  if (order.page_path.empty()) return {};
  return write_file(order.page_path, report::format_page(review));
}

bool standard_output_is_taken(const ReviewOrder& order) {
  return order.json_path == "-" || order.page_path == "-";
}

}  // namespace

int run_review(const ReviewOrder& order) {
  const Result<practice::Review> review = review_of(order);
  if (!review) return fail(review.error());
  const Status written = write_files(*review, order);
  if (!written) return fail(written.error());
  if (standard_output_is_taken(order)) return kReviewed;
  const std::string text = report::terminal_text(*review, choose_style(look_at_terminal()));
  const Status shown = write_file("-", text);
  return shown ? kReviewed : fail(shown.error());
}

}  // namespace loftbeat::app
