#include "app/history_command.h"

#include <algorithm>
#include <cctype>
#include <filesystem>
#include <thread>
#include <utility>

#include <fmt/format.h>

#include "advise/advise.h"
#include "app/endings.h"
#include "app/terminal_choice.h"
#include "base/file.h"
#include "base/nearest.h"
#include "music/read.h"
#include "organ/organ.h"
#include "plan/read.h"
#include "plan/service.h"
#include "practice/history.h"
#include "practice/practice_note.h"
#include "practice/session_folder.h"
#include "report/history_page.h"
#include "report/history_text.h"
#include "report/utf8.h"
#include "take/smf_take.h"

namespace loftbeat::app {
namespace {

namespace fs = std::filesystem;

std::string lower_case(std::string text) {
  std::transform(text.begin(), text.end(), text.begin(),
                 [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
  return text;
}

std::string tune_of(const plan::Plan& plan, const music::Score& score) {
  return plan.title.empty() ? score.title : plan.title;
}

// "2026-11-27-0918-..." -> "2026-11-27 09:18"; empty if the folder is named otherwise.
std::string when_of(const std::string& name) {
  constexpr std::string_view kPattern = "dddd-dd-dd-dddd";
  if (name.size() < kPattern.size()) return "";
  for (std::size_t i = 0; i < kPattern.size(); ++i) {
    const bool digit = name[i] >= '0' && name[i] <= '9';
    if (digit != (kPattern[i] == 'd')) return "";
  }
  return name.substr(0, 10) + " " + name.substr(11, 2) + ":" + name.substr(13, 2);
}

// One folder, reviewed anew: so that all practices are measured alike, whatever version kept them.
Result<practice::NotedPractice> look_into(const fs::path& path) {
  const practice::SessionFolder folder{path.string()};
  const auto note = practice::read_practice_note(folder.note());
  if (!note) return note.error();
  Result<plan::Plan> plan = plan::read_plan(folder.plan());
  if (!plan) return plan.error();
  Result<music::ReadScore> score = music::read_score(plan->score_path);
  if (!score) return score.error();
  const Result<take::Take> take = take::read_take(folder.take());
  if (!take) return take.error();
  practice::NotedPractice noted;
  noted.tune = tune_of(*plan, score->score);
  noted.score = fs::path(plan->score_path).stem().string();
  const std::string organ_path = plan->organ_path;
  auto review = practice::review(std::move(*plan), std::move(*score), *take, folder.take());
  if (!review) return review.error();
  if (!organ_path.empty()) {
    if (const Result<organ::Organ> organ = organ::read_organ(organ_path))
      practice::judge_stops(*review, *take, advise::lay_out(*organ));
  }
  const std::string name = path.filename().string();
  noted.figures = practice::figures_of(*review, *note, name, when_of(name));
  return noted;
}

std::vector<fs::path> practice_folders(const std::string& sessions, Status& status) {
  std::vector<fs::path> folders;
  std::error_code why;
  for (fs::directory_iterator entry(sessions, why), end; !why && entry != end;
       entry.increment(why)) {
    const practice::SessionFolder folder{entry->path().string()};
    if (!when_of(entry->path().filename().string()).empty() && fs::exists(folder.plan(), why))
      folders.push_back(entry->path());
  }
  if (why)
    status = Error{ErrorKind::unreadable,
                   "the folder of practices cannot be read: " + why.message() + ".",
                   sessions,
                   0,
                   0,
                   "Name it with --sessions, or practise first: loftbeat listen."};
  std::sort(folders.begin(), folders.end());
  return folders;
}

struct Looked {
  std::vector<practice::NotedPractice> practices;
  std::vector<std::string> left_out;
};

// Reviews take some tens of milliseconds each; every processor takes a share.
Looked look_into_all(const std::vector<fs::path>& folders) {
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
      looked.left_out.push_back(report::clean_text(folders[i].filename().string() + ": " +
                                                   to_string(results[i]->error())));
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

Result<std::string> needs_of(const HistoryOrder& order,
                             const std::vector<practice::TuneHistory>& histories) {
  const Result<plan::Service> service = plan::read_service(order.service_path);
  if (!service) return service.error();
  std::vector<report::ServiceNeed> needs;
  for (const plan::ServiceHymn& hymn : service->hymns) {
    const Result<plan::Plan> plan = plan::read_plan(hymn.plan_path);
    if (!plan) return plan.error();
    const Result<music::ReadScore> score = music::read_score(plan->score_path);
    if (!score) return score.error();
    const std::string tune = tune_of(*plan, score->score);
    const auto found = std::find_if(histories.begin(), histories.end(),
                                    [&](const auto& history) { return history.tune == tune; });
    practice::Need need;
    if (found != histories.end()) need = practice::need_of(*found);
    needs.push_back({(hymn.number.empty() ? "" : hymn.number + " ") + tune, need});
  }
  return report::service_needs_text(std::move(needs), service->title,
                                    choose_style(look_at_terminal()));
}

}  // namespace

int run_history(const HistoryOrder& order) {
  Status status;
  const std::vector<fs::path> folders = practice_folders(order.sessions, status);
  if (!status) return fail(status.error());
  Looked looked = look_into_all(folders);
  std::vector<practice::TuneHistory> histories =
      practice::histories_of(std::move(looked.practices));
  std::string needs;
  if (!order.service_path.empty()) {
    Result<std::string> text = needs_of(order, histories);
    if (!text) return fail(text.error());
    needs = std::move(*text);
  }
  status = keep_tune(order.tune, histories);
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
