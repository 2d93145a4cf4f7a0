#include "app/review_command.h"

#include <cstdio>
#include <utility>

#include "app/endings.h"
#include "app/terminal_choice.h"
#include "music/read.h"
#include "plan/read.h"
#include "practice/review.h"
#include "report/report.h"
#include "take/smf_take.h"

namespace loftbeat::app {
namespace {

std::string file_name(const std::string& path) { return path.substr(path.find_last_of('/') + 1); }

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
  return practice::review(std::move(plan), std::move(*score), *take, file_name(order.take_path));
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
