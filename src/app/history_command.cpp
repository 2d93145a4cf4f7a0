#include "app/history_command.h"

#include <algorithm>
#include <cctype>
#include <thread>
#include <utility>

#include <fmt/format.h>

#include "app/endings.h"
#include "app/kept_practice.h"
#include "app/terminal_choice.h"
#include "base/file.h"
#include "base/nearest.h"
#include "music/read.h"
#include "plan/read.h"
#include "plan/service.h"
#include "practice/history.h"
#include "report/history_page.h"
#include "report/history_text.h"
#include "report/utf8.h"

namespace loftbeat::app {
namespace {

std::string lower_case(std::string text) {
  std::transform(text.begin(), text.end(), text.begin(),
                 [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
  return text;
}

Result<practice::NotedPractice> look_into(const KeptPractice& kept) {
  const Result<ReviewedPractice> reviewed = review_practice(kept);
  if (!reviewed) return reviewed.error();
  return noted(*reviewed);
}

struct Looked {
  std::vector<practice::NotedPractice> practices;
  std::vector<std::string> left_out;
};

// Reviews take some tens of milliseconds each; every processor takes a share.
Looked look_into_all(const std::vector<KeptPractice>& folders) {
  const std::size_t workers = std::clamp<std::size_t>(std::thread::hardware_concurrency(), 1, 8);
  std::vector<std::optional<Result<practice::NotedPractice>>> results(folders.size());
  std::vector<std::thread> threads;
  for (std::size_t worker = 0; worker < workers; ++worker) {
    threads.emplace_back([&, worker] {
      for (std::size_t i = worker; i < folders.size(); i += workers)
        results[i].emplace(look_into(folders[i]));
    });
  }
  for (std::thread& thread : threads) thread.join();
  Looked looked;
  for (std::size_t i = 0; i < folders.size(); ++i) {
    if (results[i]->ok()) {
      looked.practices.push_back(std::move(**results[i]));
    } else {
      looked.left_out.push_back(
          report::clean_text(folders[i].name + ": " + to_string(results[i]->error())));
    }
  }
  return looked;
}

// Only the tunes whose name contains the words. Errors: none does, with the nearest.
Status keep_tune(const std::string& words, std::vector<practice::TuneHistory>& histories) {
  if (words.empty()) return {};
  std::vector<std::string> known;
  for (const auto& history : histories) known.push_back(history.tune);
  std::erase_if(histories, [&](const practice::TuneHistory& history) {
    return lower_case(history.tune + "\n" + history.score).find(lower_case(words)) ==
           std::string::npos;
  });
  if (!histories.empty()) return {};
  return wrong_use("no tune called \"" + words + "\" was practised.", nearest_hint(words, known));
}

Result<std::string> tune_of_plan(const std::string& path) {
  const Result<plan::Plan> plan = plan::read_plan(path);
  if (!plan) return plan.error();
  const Result<music::ReadScore> score = music::read_score(plan->score_path);
  if (!score) return score.error();
  return tune_of(*plan, score->score);
}

Result<std::string> needs_of(const HistoryOrder& order,
                             const std::vector<practice::TuneHistory>& histories) {
  const Result<plan::Service> service = plan::read_service(order.service_path);
  if (!service) return service.error();
  std::vector<report::ServiceNeed> needs;
  std::string left_out;  // a hymn that cannot be read hides no other
  for (const plan::ServiceHymn& hymn : service->hymns) {
    const Result<std::string> named = tune_of_plan(hymn.plan_path);
    if (!named) {
      left_out += "Left out: " + to_string(named.error()) + "\n";
      continue;
    }
    const std::string& tune = *named;
    const auto found = std::find_if(histories.begin(), histories.end(),
                                    [&](const auto& history) { return history.tune == tune; });
    practice::Need need;
    if (found != histories.end()) need = practice::need_of(*found);
    needs.push_back({(hymn.number.empty() ? "" : hymn.number + " ") + tune, need});
  }
  return report::service_needs_text(std::move(needs), service->title,
                                    choose_style(look_at_terminal())) +
         left_out;
}

}  // namespace

int run_history(const HistoryOrder& order) {
  const auto folders = kept_practices(order.sessions);
  if (!folders) return fail(folders.error());
  Looked looked = look_into_all(*folders);
  std::vector<practice::TuneHistory> histories =
      practice::histories_of(std::move(looked.practices));
  std::string needs;
  if (!order.service_path.empty()) {
    Result<std::string> text = needs_of(order, histories);
    if (!text) return fail(text.error());
    needs = std::move(*text);
  }
  Status status = keep_tune(order.tune, histories);
  if (!status) return fail(status.error());
  if (!order.page_path.empty()) {
    status =
        loftbeat::write_file(order.page_path, report::history_page(histories, looked.left_out));
    if (!status) return fail(status.error());
    if (order.page_path == "-") return kReviewed;
  }
  const std::string text =
      report::history_text(histories, looked.left_out, choose_style(look_at_terminal()));
  status = loftbeat::write_file("-", needs.empty() ? text : needs + "\n" + text);
  return status ? kReviewed : fail(status.error());
}

}  // namespace loftbeat::app
