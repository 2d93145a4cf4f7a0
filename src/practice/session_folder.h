#pragma once

#include <ctime>
#include <string>
#include <vector>

#include "base/result.h"
#include "plan/plan.h"
#include "take/take.h"

namespace loftbeat::practice {

// One practice as a folder, `<date>-<time>-<tune>`: the plan as it was, the take, its review; and,
// while it is played, the journal.
struct SessionFolder {
  std::string path;

  [[nodiscard]] std::string plan() const { return path + "/practice.plan.toml"; }
  [[nodiscard]] std::string take() const { return path + "/take.mid"; }
  [[nodiscard]] std::string review() const { return path + "/review.json"; }
  [[nodiscard]] std::string note() const { return path + "/practice.toml"; }
  [[nodiscard]] std::string journal() const { return path + "/take.journal"; }
};

// "2026-11-29-1830-now-the-lamps-are-lit": what is no letter or digit of ASCII becomes a hyphen, at
// most 40 bytes of the tune; no tune: "hymn".
[[nodiscard]] std::string session_name(const std::tm& when, const std::string& tune);

// Makes the folder (and `parent`, if need be) and writes the plan into it, its files named as seen
// from there. A second practice in the same minute gets "-2" after its name. Errors: the system
// refuses.
[[nodiscard]] Result<SessionFolder> make_session(const std::string& parent, const std::tm& when,
                                                 plan::Plan plan, const std::string& tune);

// Turns the journal into the take: writes take.mid, and only when that is there takes the journal
// away. Errors: the journal cannot be read, or the system refuses; the journal then stays.
[[nodiscard]] Result<take::Take> finish_session(const SessionFolder& folder);

// Takes away the folder of a practice in which nothing was played: what we wrote, and the folder if
// nothing else lies in it.
void remove_unplayed(const SessionFolder& folder);

// Practices below `parent` that a crash left with a journal and no take, oldest first.
[[nodiscard]] std::vector<SessionFolder> unfinished_sessions(const std::string& parent);

}  // namespace loftbeat::practice
