#pragma once

#include <string>
#include <vector>

#include "base/result.h"
#include "practice/hymn_index.h"

namespace loftbeat::practice {

// The scores that lie in a folder, by their endings, sorted by name; size and time filled, nothing
// else. If `folder` is a file it is the only one, whatever its ending. What had to be left out is
// told. Errors: not there, or the folder itself cannot be listed.
struct FoundFiles {
  std::vector<IndexedFile> files;
  std::vector<Notice> notices;
};
[[nodiscard]] Result<FoundFiles> find_score_files(const std::string& folder);

}  // namespace loftbeat::practice
