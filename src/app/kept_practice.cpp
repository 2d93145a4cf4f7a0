#include "app/kept_practice.h"

#include <algorithm>
#include <filesystem>
#include <string_view>
#include <utility>

#include "advise/advise.h"
#include "crowd/crowd_record.h"
#include "music/read.h"
#include "organ/organ.h"
#include "plan/read.h"
#include "take/smf_take.h"

namespace loftbeat::app {
namespace {

namespace fs = std::filesystem;

}  // namespace

std::string tune_of(const plan::Plan& plan, const music::Score& score) {
  return plan.title.empty() ? score.title : plan.title;
}

std::string when_of(const std::string& name) {
  constexpr std::string_view kPattern = "dddd-dd-dd-dddd";
  if (name.size() < kPattern.size()) return "";
  for (std::size_t i = 0; i < kPattern.size(); ++i) {
    const bool digit = name[i] >= '0' && name[i] <= '9';
    if (digit != (kPattern[i] == 'd')) return "";
  }
  return name.substr(0, 10) + " " + name.substr(11, 2) + ":" + name.substr(13, 2);
}

Result<std::vector<KeptPractice>> kept_practices(const std::string& sessions) {
  std::vector<KeptPractice> kept;
  std::error_code why;
  for (fs::directory_iterator entry(sessions, why), end; !why && entry != end;
       entry.increment(why)) {
    const std::string name = entry->path().filename().string();
    const practice::SessionFolder folder{entry->path().string()};
    std::error_code none;
    const bool unfinished = fs::exists(folder.journal(), none) && !fs::exists(folder.take(), none);
    if (!when_of(name).empty() && fs::exists(folder.plan(), none) && !unfinished)
      kept.push_back({folder, name, when_of(name)});
  }
  if (why)
    return Error{ErrorKind::unreadable,
                 "the folder of practices cannot be read: " + why.message() + ".",
                 sessions,
                 0,
                 0,
                 "Name it with --sessions, or practise first: loftbeat listen."};
  std::sort(kept.begin(), kept.end(),
            [](const KeptPractice& a, const KeptPractice& b) { return a.name < b.name; });
  return kept;
}

Result<PracticeLabel> label_of(const KeptPractice& kept) {
  PracticeLabel label;
  auto note = practice::read_practice_note(kept.folder.note());
  if (!note) return note.error();
  label.note = std::move(*note);
  const Result<plan::Plan> plan = plan::read_plan(kept.folder.plan());
  if (!plan) return plan.error();
  label.tune = plan->title;
  if (!label.tune.empty()) return label;
  const Result<music::ReadScore> score = music::read_score(plan->score_path);
  if (!score) return score.error();
  label.tune = score->score.title;
  return label;
}

Result<ReviewedPractice> review_practice(const KeptPractice& kept) {
  ReviewedPractice reviewed;
  reviewed.kept = kept;
  auto note = practice::read_practice_note(kept.folder.note());
  if (!note) return note.error();
  reviewed.note = std::move(*note);
  Result<plan::Plan> plan = plan::read_plan(kept.folder.plan());
  if (!plan) return plan.error();
  Result<music::ReadScore> score = music::read_score(plan->score_path);
  if (!score) return score.error();
  Result<take::Take> take = take::read_take(kept.folder.take());
  if (!take) return take.error();
  reviewed.take = std::move(*take);
  reviewed.tune = tune_of(*plan, score->score);
  reviewed.score = fs::path(plan->score_path).stem().string();
  const std::string organ_path = plan->organ_path;
  auto review =
      practice::review(std::move(*plan), std::move(*score), reviewed.take, kept.folder.take());
  if (!review) return review.error();
  reviewed.review = std::move(*review);
  if (!organ_path.empty()) {
    if (const Result<organ::Organ> organ = organ::read_organ(organ_path))
      practice::judge_stops(reviewed.review, reviewed.take, advise::lay_out(*organ));
  }
  add_singing(kept.folder.path, reviewed.review);
  return reviewed;
}

practice::NotedPractice noted(const ReviewedPractice& reviewed) {
  practice::NotedPractice noted;
  noted.tune = reviewed.tune;
  noted.score = reviewed.score;
  noted.figures =
      practice::figures_of(reviewed.review, reviewed.note, reviewed.kept.name, reviewed.kept.when);
  return noted;
}

void add_singing(const std::string& folder, practice::Review& review) {
  const std::string path = (fs::path(folder) / crowd::kCrowdFile).string();
  std::error_code why;
  if (!fs::exists(path, why)) return;
  const Result<crowd::ReadCrowd> read = crowd::read_crowd(path);
  if (!read) {
    review.notices.push_back({"who led is not told: " + to_string(read.error()), path, 0});
    return;
  }
  for (const Notice& notice : read->notices) review.notices.push_back(notice);
  practice::judge_singing(review, read->record);
}

}  // namespace loftbeat::app
