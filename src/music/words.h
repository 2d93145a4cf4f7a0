#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "music/score.h"

namespace loftbeat::music {

// `text` cut to at most `most` bytes at a whole character of UTF-8, control characters as spaces,
// without white space round it.
[[nodiscard]] std::string short_text(std::string_view text, std::size_t most);

// Two syllables on one note: "to" and "a" give "to a". At most kMaxSyllableBytes.
[[nodiscard]] std::string joined_syllables(const std::string& first, const std::string& second);

// By place and verse; syllables at one place in one verse become one, empty ones go.
void put_in_order(std::vector<Syllable>& words);

// The words of the lowest verse that has any, line by line as the phrases lie (all in one where
// there are none): words whole, single spaces between. A line without words is empty.
// Example: "All people that on earth do dwell".
[[nodiscard]] std::vector<std::string> lines_of_words(const Score& score);

// Syllables of that verse by line, as far as phrases and words go; empty if either is missing. A
// phrase of more than eleven syllables is two lines where most of two verses or more begin a word
// with a capital letter in the middle of it, and one has a stop before that; or where another
// phrase of that length is two lines, or two neighbours have that length together, if no word is
// cut there. Example: 8 8 8 8 for a long metre.
[[nodiscard]] std::vector<int> syllables_by_line(const Score& score);

}  // namespace loftbeat::music
