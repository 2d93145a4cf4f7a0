#pragma once

#include <string>
#include <vector>

#include "base/result.h"
#include "practice/history.h"
#include "practice/practice_note.h"
#include "practice/review.h"
#include "practice/session_folder.h"
#include "take/take.h"

namespace loftbeat::app {

// Practices that were kept as folders, looked at again. Any thread.

struct KeptPractice {
  practice::SessionFolder folder;
  std::string name;  // of the folder, without its place
  std::string when;  // "2026-11-27 09:18"
};

// "2026-11-27-0918-..." -> "2026-11-27 09:18"; empty if a folder is named otherwise.
[[nodiscard]] std::string when_of(const std::string& name);

// The practices below `sessions`, oldest first: folders that begin with date and time and hold a
// plan; those that are being played just now, or that a crash left to be recovered, are left out.
// Errors: the folder is not there, or cannot be read.
[[nodiscard]] Result<std::vector<KeptPractice>> kept_practices(const std::string& sessions);

// The plan's title, else the score's.
[[nodiscard]] std::string tune_of(const plan::Plan& plan, const music::Score& score);

// What a practice was of: some milliseconds. Errors: what the readers of its files say.
struct PracticeLabel {
  std::string tune;
  practice::PracticeNote note;
};
[[nodiscard]] Result<PracticeLabel> label_of(const KeptPractice& kept);

// A practice reviewed anew, with its stops and its singers: so that all are measured alike,
// whatever version kept them. Some tens of milliseconds.
struct ReviewedPractice {
  KeptPractice kept;
  practice::PracticeNote note;
  std::string tune;
  std::string score;  // name of the score's file, without its ending
  take::Take take;
  practice::Review review;
};
// Errors: what readers and practice::review say.
[[nodiscard]] Result<ReviewedPractice> review_practice(const KeptPractice& kept);

// For practice::histories_of.
[[nodiscard]] practice::NotedPractice noted(const ReviewedPractice& reviewed);

// Where people sang along, what is kept of them lies beside the take, in `folder`: tells who led.
void add_singing(const std::string& folder, practice::Review& review);

}  // namespace loftbeat::app
