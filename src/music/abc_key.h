#pragma once

#include <array>
#include <optional>
#include <string_view>

namespace loftbeat::music {

// A key signature as it acts on notes: semitones for each letter, in the order C D E F G A B.
struct AbcKey {
  std::array<int, 7> alter = {};
  int fifths = 0;  // of the signature by tonic and mode, -7 to 7
  bool minor = false;
  bool stated = false;  // "none" and a K: without a tonic state none
  friend bool operator==(const AbcKey&, const AbcKey&) = default;
};

// 0 to 6 for C to B, upper or lower case; nothing for other letters.
[[nodiscard]] std::optional<int> abc_letter_index(char letter);

// The key that K: states; nothing if it cannot be read. Modes in any case, of which three letters
// count (maj min m ion dor phr lyd mix aeo loc), "exp", accidentals that follow ("=c", "^f"),
// "none", "HP", "Hp". Words about clef and octave are passed over; where only such stand, the key
// is `before`. Example: "D mixolydian" -> F sharp, fifths 1; "Am" -> fifths 0, minor.
[[nodiscard]] std::optional<AbcKey> parse_abc_key(std::string_view text, const AbcKey& before);

}  // namespace loftbeat::music
