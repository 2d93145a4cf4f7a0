#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "practice/hymn.h"

namespace loftbeat::practice {

// What cannot be read, and why.
struct UnreadHymn {
  std::string where;
  std::string reason;    // a sentence
  bool playing = false;  // recorded playing, which nobody expects to be read as a score
  friend bool operator==(const UnreadHymn&, const UnreadHymn&) = default;
};

// One file of the folder, as it was when it was read.
struct IndexedFile {
  std::string path;  // seen from the folder, with "/"
  std::uint64_t bytes = 0;
  std::int64_t changed_ns = 0;  // when, by the file system
  std::vector<Hymn> hymns;
  std::vector<UnreadHymn> unread;
  friend bool operator==(const IndexedFile&, const IndexedFile&) = default;
};

// The hymns of a folder, files by name.
struct HymnIndex {
  std::string folder;  // absolute
  std::vector<IndexedFile> files;
  friend bool operator==(const HymnIndex&, const HymnIndex&) = default;
};

// An index holds no more; what is beyond is not looked at.
inline constexpr std::size_t kMostIndexedFiles = 20'000;
inline constexpr std::size_t kMostHymns = 50'000;
// The format, and what is told of a hymn: raised whenever either changes.
inline constexpr int kHymnIndexVersion = 1;

// The index as text: a line for each file and hymn, fields parted by tabs, a check sum last.
[[nodiscard]] std::string format_hymn_index(const HymnIndex& index);

// Reads what format_hymn_index wrote; gives the same index back. Errors: wrong_use for another
// version; unreadable for anything that is damaged, cut off, out of range or too much. Nothing is
// thrown; memory is bounded by the text's size.
[[nodiscard]] Result<HymnIndex> parse_hymn_index(std::string_view text, const std::string& name);

}  // namespace loftbeat::practice
