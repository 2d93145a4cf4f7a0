#pragma once

#include <string>
#include <vector>

#include "practice/hymn_index.h"

namespace loftbeat::practice {

// All hymns of the index, by title and then by file.
[[nodiscard]] std::vector<const Hymn*> all_hymns(const HymnIndex& index);
// All that could not be read.
[[nodiscard]] std::vector<const UnreadHymn*> all_unread(const HymnIndex& index);

// Those in whose title, tune, first line or file name every one of the words stands; large and
// small letters, accents and signs between letters make no difference. No words: all.
// Example: "old hund" finds "Old Hundredth", "doré" and "dore" each other.
[[nodiscard]] std::vector<const Hymn*> with_words(const std::vector<const Hymn*>& hymns,
                                                  const std::string& words);

// Those of just this poetic metre, with or without a refrain.
[[nodiscard]] std::vector<const Hymn*> with_metre(const std::vector<const Hymn*>& hymns,
                                                  const music::PoeticMetre& metre);

// "8.6.8.6 (C.M.)", with " *" behind it where it was counted and not stated; "–" if not known.
[[nodiscard]] std::string metre_words(const Hymn& hymn);

}  // namespace loftbeat::practice
