#include "practice/hymn_files.h"

#include <algorithm>
#include <array>
#include <filesystem>
#include <string_view>
#include <system_error>
#include <utility>

namespace loftbeat::practice {
namespace {

namespace fs = std::filesystem;

constexpr int kDeepest = 32;
constexpr std::array<std::string_view, 7> kScoreEndings{".musicxml", ".xml",  ".mxl", ".abc",
                                                        ".mid",      ".midi", ".smf"};

bool ends_as_score(const fs::path& path) {
  std::string ending = path.extension().string();
  std::transform(ending.begin(), ending.end(), ending.begin(),
                 [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c + 32) : c; });
  return std::find(kScoreEndings.begin(), kScoreEndings.end(), ending) != kScoreEndings.end();
}

bool is_hidden(const fs::path& path) {
  const std::string name = path.filename().string();
  return !name.empty() && name.front() == '.';
}

IndexedFile looked_at(const fs::path& path, std::string where) {
  std::error_code why;
  IndexedFile file;
  file.path = std::move(where);
  const auto bytes = fs::file_size(path, why);
  if (!why) file.bytes = bytes;
  const auto changed = fs::last_write_time(path, why);
  if (!why)
    file.changed_ns =
        std::chrono::duration_cast<std::chrono::nanoseconds>(changed.time_since_epoch()).count();
  return file;
}

class FolderWalk {
 public:
  explicit FolderWalk(fs::path top) : top_(std::move(top)) {}

  Result<FoundFiles> walk() {
    std::error_code why;
    walk(top_, 0, why);
    if (why)
      return Error{ErrorKind::unreadable,
                   "the folder cannot be read: " + why.message() + ".",
                   top_.string(),
                   0,
                   0,
                   "Check that you may open it."};
    std::sort(found_.files.begin(), found_.files.end(),
              [](const IndexedFile& a, const IndexedFile& b) { return a.path < b.path; });
    return std::move(found_);
  }

 private:
  // NOLINTNEXTLINE(misc-no-recursion): bounded by kDeepest.
  void walk(const fs::path& folder, int depth, std::error_code& why) {
    fs::directory_iterator entry(folder, why);
    if (why) return;
    std::error_code unseen;
    for (const fs::directory_iterator end; !why && entry != end; entry.increment(why)) {
      const fs::path path = entry->path();
      if (is_hidden(path)) continue;
      if (entry->is_directory(unseen)) {
        go_into(path, entry->is_symlink(unseen), depth);
      } else if (ends_as_score(path)) {
        add(path);
      }
    }
  }

  // NOLINTNEXTLINE(misc-no-recursion)
  void go_into(const fs::path& path, bool is_link, int depth) {
    if (is_link) return;  // what it leads to may be where we come from
    if (depth == kDeepest) {
      tell("this folder lies too deep and is left out.", path);
      return;
    }
    std::error_code why;
    walk(path, depth + 1, why);
    if (why) tell("this folder cannot be read (" + why.message() + ") and is left out.", path);
  }

  void add(const fs::path& path) {
    if (found_.files.size() == kMostIndexedFiles) {
      if (!full_) tell("there are more than 20,000 scores; the rest is left out.", top_);
      full_ = true;
      return;
    }
    found_.files.push_back(looked_at(path, path.lexically_relative(top_).generic_string()));
  }

  void tell(std::string sentence, const fs::path& where) {
    if (found_.notices.size() < 100)
      found_.notices.push_back({std::move(sentence), where.string()});
  }

  fs::path top_;
  FoundFiles found_;
  bool full_ = false;
};

}  // namespace

Result<FoundFiles> find_score_files(const std::string& folder) {
  std::error_code why;
  const fs::file_status status = fs::status(folder, why);
  if (!fs::exists(status))
    return Error{ErrorKind::unreadable,
                 "there is no such folder or file.",
                 folder,
                 0,
                 0,
                 "Name the folder in which your scores lie."};
  if (fs::is_directory(status)) return FolderWalk(folder).walk();
  FoundFiles one;
  one.files.push_back(looked_at(folder, fs::path(folder).filename().string()));
  return one;
}

}  // namespace loftbeat::practice
