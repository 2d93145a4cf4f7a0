#pragma once

// Which pipes a stop most likely has, guessed from what is engraved on it. Names vary from builder
// to builder: all of it is common practice, no source.

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "organ/family.h"

namespace loftbeat::organ {

struct FamilyGuess {
  Family family = Family::principal;
  std::optional<Family> other;  // what pipes of that name may be as well
};

// By the longest known word of the name; of words as long, and of several kinds in one name, the
// last says what it is and the other is given as `other`, if the two mean different families. Upper
// and lower case are alike, and so are the umlauts and accents of western languages and their plain
// letters. None where no word is known.
// Examples: "Open Diapason" -> principal; "Stopped Diapason" -> stopped-flute; "Violin Diapason" ->
// principal, else string; "Gemshorn" -> principal, else string; "Rohrflöte" -> stopped-flute.
[[nodiscard]] std::optional<FamilyGuess> family_of_name(std::string_view name);

// Every word that is known, for "Did you mean", each with a capital letter.
[[nodiscard]] std::vector<std::string> known_stop_words();

}  // namespace loftbeat::organ
