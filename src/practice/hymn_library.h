#pragma once

#include <cstddef>
#include <functional>
#include <string>
#include <vector>

#include "base/result.h"
#include "practice/hymn_index.h"

namespace loftbeat::practice {

// Where indexes are kept for the user: $XDG_CACHE_HOME/loftbeat, else ~/.cache/loftbeat; empty if
// neither is set (nothing is then kept).
[[nodiscard]] std::string hymn_cache_folder();

// How the reading goes on: files done of all that have to be read. False ends it. Called from
// the thread that called open_hymns.
using HymnProgress = std::function<bool(std::size_t done, std::size_t all)>;

enum class Reread { changed, all };

struct HymnRequest {
  std::string folder;        // or one file
  std::string cache_folder;  // where the index is kept; empty: nowhere
  Reread reread = Reread::changed;
  HymnProgress progress = {};
};

struct HymnLibrary {
  HymnIndex index;
  std::size_t read = 0;         // files that were read now; the others are as they were
  std::vector<Notice> notices;  // a damaged index, a full one, an unreadable subfolder ...
  bool complete = true;         // false: ended by `progress`
};

// The hymns of every score below a folder (MusicXML, .mxl, ABC, MIDI files), or of one file. Files
// whose size, time and name are as in the kept index are not read again. A kept index that is
// damaged or of another version is made anew, with a notice. Scores are read on all processors.
//
// Left out: hidden files and folders, links to folders, folders deeper than 32, MIDI files that are
// recorded playing (of practices, say). What cannot be read is told in `unread` and stops nothing.
// At most kMostIndexedFiles; in the cache folder at most kMostKeptIndexes, the oldest go.
//
// Errors: the folder is not there or cannot be read.
[[nodiscard]] Result<HymnLibrary> open_hymns(const HymnRequest& request);

inline constexpr std::size_t kMostKeptIndexes = 20;

// What the file says, alone: all its tunes, or why they cannot be read. `path` is opened, `where`
// is how it is called.
[[nodiscard]] IndexedFile index_file(const std::string& path, const std::string& where);

}  // namespace loftbeat::practice
