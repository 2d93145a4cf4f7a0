#include "practice/session_folder.h"

#include <algorithm>
#include <filesystem>

#include <fmt/chrono.h>
#include <fmt/format.h>

#include "base/file.h"
#include "plan/read.h"
#include "take/journal.h"
#include "take/smf_take.h"

namespace loftbeat::practice {
namespace {

namespace fs = std::filesystem;

constexpr std::size_t kMostTuneBytes = 40;
constexpr int kMostSameMinute = 1000;

std::string as_file_name(const std::string& tune) {
  std::string name;
  for (const char c : tune) {
    const bool letter = (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9');
    const bool capital = c >= 'A' && c <= 'Z';
    if (capital) name += static_cast<char>(c - 'A' + 'a');
    if (letter) name += c;
    if (!letter && !capital && !name.empty() && name.back() != '-') name += '-';
    if (name.size() == kMostTuneBytes) break;
  }
  while (!name.empty() && name.back() == '-') name.pop_back();
  return name.empty() ? "hymn" : name;
}

Error refused(const std::string& path, const std::error_code& why) {
  Error error;
  error.message = "the folder for this practice cannot be made: " + why.message() + ".";
  error.file = path;
  error.hint = "Choose another place with --sessions.";
  return error;
}

}  // namespace

std::string session_name(const std::tm& when, const std::string& tune) {
  return fmt::format("{:%Y-%m-%d-%H%M}-{}", when, as_file_name(tune));
}

Result<SessionFolder> make_session(const std::string& parent, const std::tm& when, plan::Plan plan,
                                   const std::string& tune) {
  std::error_code why;
  fs::create_directories(parent, why);
  if (why) return refused(parent, why);
  const std::string first = parent + "/" + session_name(when, tune);
  SessionFolder folder{first};
  for (int again = 2; !fs::create_directory(folder.path, why); ++again) {
    if (why || again > kMostSameMinute) return refused(folder.path, why);
    folder.path = fmt::format("{}-{}", first, again);
  }
  plan.file = folder.plan();
  if (Status status = write_file(folder.plan(), plan::format_plan(plan)); !status)
    return status.error();
  return folder;
}

Result<take::Take> finish_session(const SessionFolder& folder) {
  Result<take::JournalContents> journal = take::read_journal(folder.journal());
  if (!journal) return journal.error();
  if (Status status = write_file(folder.take(), take::format_take(journal->take)); !status)
    return status.error();
  std::error_code why;  // a journal that stays does no harm: there is a take beside it
  fs::remove(folder.journal(), why);
  return std::move(journal->take);
}

void remove_unplayed(const SessionFolder& folder) {
  std::error_code why;  // what stays does no harm
  for (const std::string& path :
       {folder.journal(), folder.take(), folder.note(), folder.review(), folder.plan()})
    fs::remove(path, why);
  fs::remove(folder.path, why);  // refuses where something lies in it
}

std::vector<SessionFolder> unfinished_sessions(const std::string& parent) {
  std::vector<SessionFolder> unfinished;
  std::error_code why;
  for (fs::directory_iterator entry(parent, why), end; !why && entry != end; entry.increment(why)) {
    const SessionFolder folder{entry->path().string()};
    if (fs::exists(folder.journal(), why) && !fs::exists(folder.take(), why))
      unfinished.push_back(folder);
  }
  std::sort(unfinished.begin(), unfinished.end(),
            [](const SessionFolder& a, const SessionFolder& b) { return a.path < b.path; });
  return unfinished;
}

}  // namespace loftbeat::practice
