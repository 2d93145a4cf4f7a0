#include "practice/hymn_library.h"

#include <algorithm>
#include <atomic>
#include <chrono>
#include <cstdlib>
#include <filesystem>
#include <map>
#include <set>
#include <system_error>
#include <thread>
#include <utility>

#include <fmt/format.h>

#include "base/file.h"
#include "music/abc.h"
#include "music/read.h"
#include "practice/hymn_files.h"

namespace loftbeat::practice {
namespace {

namespace fs = std::filesystem;
using namespace std::chrono_literals;

constexpr std::size_t kMostReason = 400;

std::string reason_of(const Error& error) {
  Error bare = error;
  bare.file.clear();
  bare.hint.clear();
  std::string reason = to_string(bare);
  if (bare.line > 0)
    reason =
        fmt::format("line {}{}: {}", bare.line,
                    bare.column > 0 ? fmt::format(", column {}", bare.column) : "", bare.message);
  if (reason.size() > kMostReason) reason.resize(kMostReason);
  return reason;
}

void add_score(const Result<music::ReadScore>& read, const std::string& where, IndexedFile& file) {
  if (!read) {
    file.unread.push_back({where, reason_of(read.error()), false});
  } else if (read->played) {
    file.unread.push_back({where, "this is recorded playing and not a score.", true});
  } else {
    file.hymns.push_back(hymn_of(read->score, where));
  }
}

void add_tunes(const std::string& bytes, const std::string& path, IndexedFile& file) {
  const auto tunes = music::list_abc_tunes(bytes, path);
  if (!tunes) {
    file.unread.push_back({file.path, reason_of(tunes.error()), false});
    return;
  }
  std::set<int> seen;
  for (const music::AbcTune& tune : *tunes) {
    if (file.hymns.size() + file.unread.size() == kMostHymns) break;
    const std::string where =
        tunes->size() == 1 ? file.path : fmt::format("{}#{}", file.path, tune.number);
    if (!seen.insert(tune.number).second) {
      file.unread.push_back(
          {where,
           fmt::format("X:{} stands in the file more than once (line {}); the first is read.",
                       tune.number, tune.line),
           false});
      continue;
    }
    add_score(music::parse_abc(bytes, path, tune.number), where, file);
  }
}

// Reads on all processors; `progress` is called here. False if it ended the reading.
bool read_all(const std::string& folder, const std::vector<IndexedFile*>& files,
              const HymnProgress& progress) {
  std::atomic<std::size_t> next{0};
  std::atomic<std::size_t> done{0};
  std::atomic<bool> ended{false};
  const auto work = [&] {
    for (std::size_t i = next++; i < files.size() && !ended; i = next++) {
      const IndexedFile before = *files[i];
      const bool single = fs::path(folder).filename() == before.path && !fs::is_directory(folder);
      const std::string path = single ? folder : folder + "/" + before.path;
      *files[i] = index_file(path, before.path);
      files[i]->bytes = before.bytes;
      files[i]->changed_ns = before.changed_ns;
      ++done;
    }
  };
  const std::size_t workers = std::clamp<std::size_t>(std::thread::hardware_concurrency(), 1, 8);
  std::vector<std::thread> threads;
  for (std::size_t w = 0; w < std::min(workers, files.size()); ++w) threads.emplace_back(work);
  while (done < files.size() && !ended) {
    if (progress && !progress(done, files.size())) ended = true;
    std::this_thread::sleep_for(5ms);
  }
  for (std::thread& thread : threads) thread.join();
  if (progress && !ended) progress(done, files.size());
  return !ended;
}

// A name for the folder's index: FNV-1a of its path.
std::string index_name(const std::string& folder) {
  std::uint64_t sum = 14695981039346656037U;
  for (const char c : folder) sum = (sum ^ static_cast<unsigned char>(c)) * 1099511628211U;
  return fmt::format("hymns-{:016x}.index", sum);
}

HymnIndex kept_index(const std::string& path, const std::string& folder,
                     std::vector<Notice>& notices) {
  std::error_code why;
  if (!fs::exists(path, why)) return {};
  const auto bytes = read_file(path);
  auto index = bytes ? parse_hymn_index(*bytes, path) : Result<HymnIndex>(bytes.error());
  if (index) return index->folder == folder ? std::move(*index) : HymnIndex{};
  notices.push_back(
      {index.error().message + " It is made anew; that takes a little longer, and nothing is lost.",
       path});
  return {};
}

// The newest stay.
void keep_few_indexes(const std::string& cache) {
  std::error_code why;
  std::vector<std::pair<fs::file_time_type, fs::path>> indexes;
  for (const auto& entry : fs::directory_iterator(cache, why)) {
    const std::string name = entry.path().filename().string();
    if (name.rfind("hymns-", 0) != 0 || entry.path().extension() != ".index") continue;
    const auto time = fs::last_write_time(entry.path(), why);
    if (!why) indexes.emplace_back(time, entry.path());
  }
  std::sort(indexes.rbegin(), indexes.rend());
  for (std::size_t i = kMostKeptIndexes; i < indexes.size(); ++i)
    fs::remove(indexes[i].second, why);
}

void keep(const HymnIndex& index, const std::string& cache, const std::string& path,
          std::vector<Notice>& notices) {
  std::error_code why;
  fs::create_directories(cache, why);
  const std::string text = format_hymn_index(index);
  if (text.size() > kMaxFileBytes) return;
  if (const Status written = write_file(path, text); !written) {
    notices.push_back(
        {"the index cannot be kept, so that all files are read again the next time: " +
             written.error().message,
         path});
    return;
  }
  keep_few_indexes(cache);
}

// What is as it was is taken over; the rest has to be read.
std::vector<IndexedFile*> take_over(HymnIndex old, std::vector<IndexedFile>& files) {
  std::map<std::string, IndexedFile*> known;
  for (IndexedFile& file : old.files) known[file.path] = &file;
  std::vector<IndexedFile*> unknown;
  for (IndexedFile& file : files) {
    const auto before = known.find(file.path);
    const bool same = before != known.end() && before->second->bytes == file.bytes &&
                      before->second->changed_ns == file.changed_ns;
    if (same) {
      file = std::move(*before->second);
    } else {
      unknown.push_back(&file);
    }
  }
  return unknown;
}

// The index holds kMostHymns; what is beyond goes.
void limit_hymns(HymnLibrary& library) {
  std::size_t entries = 0;
  bool full = false;
  for (IndexedFile& file : library.index.files) {
    const std::size_t room = kMostHymns - entries;
    full = full || file.hymns.size() + file.unread.size() > room;
    if (file.hymns.size() > room) file.hymns.resize(room);
    if (file.unread.size() > room - file.hymns.size()) file.unread.resize(room - file.hymns.size());
    entries += file.hymns.size() + file.unread.size();
  }
  if (full)
    library.notices.push_back(
        {"there are more than 50,000 hymns; the rest is left out.", library.index.folder});
}

}  // namespace

std::string hymn_cache_folder() {
  // NOLINTBEGIN(concurrency-mt-unsafe): nobody sets the environment.
  const char* cache = std::getenv("XDG_CACHE_HOME");
  const char* home = std::getenv("HOME");
  // NOLINTEND(concurrency-mt-unsafe)
  if (cache != nullptr && cache[0] == '/') return std::string(cache) + "/loftbeat";
  if (home != nullptr && home[0] == '/') return std::string(home) + "/.cache/loftbeat";
  return {};
}

IndexedFile index_file(const std::string& path, const std::string& where) {
  IndexedFile file;
  file.path = where;
  const auto bytes = read_file(path);
  if (!bytes) {
    file.unread.push_back({where, reason_of(bytes.error()), false});
  } else if (music::looks_like_abc(*bytes)) {
    add_tunes(*bytes, path, file);
  } else {
    add_score(music::parse_score(*bytes, path), where, file);
  }
  return file;
}

Result<HymnLibrary> open_hymns(const HymnRequest& request) {
  std::error_code why;
  const std::string folder = fs::absolute(request.folder, why).lexically_normal().string();
  auto found = find_score_files(folder);
  if (!found) return found.error();
  HymnLibrary library;
  library.notices = std::move(found->notices);
  library.index.folder = folder;
  library.index.files = std::move(found->files);
  const std::string kept = request.cache_folder.empty()
                               ? std::string()
                               : request.cache_folder + "/" + index_name(folder);
  HymnIndex old;
  if (!kept.empty() && request.reread == Reread::changed)
    old = kept_index(kept, folder, library.notices);
  const std::size_t before = old.files.size();
  const auto unknown = take_over(std::move(old), library.index.files);
  library.read = unknown.size();
  library.complete = read_all(folder, unknown, request.progress);
  if (!library.complete) return library;
  limit_hymns(library);
  const bool changed = library.read > 0 || before != library.index.files.size();
  if (!kept.empty() && changed) keep(library.index, request.cache_folder, kept, library.notices);
  return library;
}

}  // namespace loftbeat::practice
