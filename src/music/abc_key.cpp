#include "music/abc_key.h"

#include <algorithm>
#include <array>
#include <string>
#include <vector>

#include "music/abc_fields.h"
#include "music/abc_text.h"

namespace loftbeat::music {
namespace {

constexpr std::array<std::size_t, 7> kOrderOfSharps = {3, 0, 4, 1, 5, 2, 6};  // F C G D A E B

struct Mode {
  std::string_view name;
  int fifths;  // against the major key on the same tonic
  bool minor;
};

constexpr std::array kModes = {
    Mode{"maj", 0, false}, Mode{"ion", 0, false},  Mode{"min", -3, true},
    Mode{"aeo", -3, true}, Mode{"dor", -2, false}, Mode{"phr", -4, false},
    Mode{"lyd", 1, false}, Mode{"mix", -1, false}, Mode{"loc", -5, false},
};

std::optional<Mode> find_mode(std::string_view word) {
  const std::string name = abc_lower(word);
  if (name.empty()) return kModes[0];
  if (name == "m") return Mode{"m", -3, true};
  if (name.size() < 3) return std::nullopt;
  const auto* found = std::find_if(kModes.begin(), kModes.end(), [&](const Mode& mode) {
    return std::string_view(name).substr(0, 3) == mode.name;
  });
  if (found == kModes.end()) return std::nullopt;
  return *found;
}

void set_signature(AbcKey& key) {
  key.alter = {};
  for (std::size_t i = 0; i < kOrderOfSharps.size(); ++i) {
    const int place = static_cast<int>(i);
    if (place < key.fifths) key.alter[kOrderOfSharps[i]] = 1;
    if (place < -key.fifths) key.alter[kOrderOfSharps[6 - i]] = -1;
  }
}

// "^f", "__b", "=c": sets the letter; false if it is not one of these.
bool take_accidental(std::string_view word, AbcKey& key) {
  const std::size_t letter = word.find_first_not_of("^_=");
  if (letter == 0 || letter == word.npos || letter + 1 != word.size() || letter > 2) return false;
  const auto index = abc_letter_index(word[letter]);
  if (!index) return false;
  const int size = static_cast<int>(letter);
  key.alter[static_cast<std::size_t>(*index)] = word[0] == '=' ? 0 : word[0] == '^' ? size : -size;
  return true;
}

// The words of K: that speak of the key; those with "=" inside and clefs do not.
std::vector<std::string_view> key_words(std::string_view text) {
  std::vector<std::string_view> words;
  while (true) {
    text = abc_trimmed(text);
    if (text.empty()) return words;
    const std::size_t end = std::min(text.find_first_of(" \t"), text.size());
    const std::string_view word = text.substr(0, end);
    text.remove_prefix(end);
    const std::size_t equals = word.find('=');
    const bool clef = (equals != word.npos && equals > 0) || word.find('"') != word.npos;
    if (!clef) words.push_back(word);
  }
}

bool names_clef(std::string_view word) {
  constexpr std::array<std::string_view, 9> kClefs = {"treble", "bass",  "alto",  "tenor",   "perc",
                                                      "clef",   "bass3", "staff", "baritone"};
  const std::string name = abc_lower(word);
  return std::any_of(kClefs.begin(), kClefs.end(), [&](std::string_view clef) {
    return std::string_view(name).substr(0, clef.size()) == clef;
  });
}

AbcKey pipes_key() {
  AbcKey key;
  key.fifths = 2;
  key.stated = true;
  set_signature(key);
  return key;
}

// Takes tonic, sharp or flat, and a mode written on to it ("F#m"); false if it is no tonic.
bool take_tonic(std::string_view word, AbcKey& key, std::string_view& mode) {
  constexpr std::array kFifths = {0, 2, 4, -1, 1, 3, 5};  // major on C D E F G A B
  if (word.empty() || word[0] < 'A' || word[0] > 'G') return false;
  key.fifths = kFifths[static_cast<std::size_t>(*abc_letter_index(word[0]))];
  std::size_t next = 1;
  if (next < word.size() && (word[next] == '#' || word[next] == 'b')) {
    key.fifths += word[next] == '#' ? 7 : -7;
    ++next;
  }
  mode = word.substr(next);
  return true;
}

bool is_mode(std::string_view word) { return word == "exp" || find_mode(word).has_value(); }

// The signature of tonic and mode; with "exp" there is none but what follows.
bool set_mode(std::string_view mode, AbcKey& key) {
  const bool explicit_only = mode == "exp";
  const auto found = find_mode(explicit_only ? "" : mode);
  if (!found) return false;
  key.fifths += found->fifths;
  key.minor = found->minor;
  if (key.fifths < -7 || key.fifths > 7) return false;
  key.stated = !explicit_only;
  if (!explicit_only) set_signature(key);
  return true;
}

// The accidentals among the words from `next` on; true if there is nothing else. "exp" takes away
// what was before it.
bool take_accidentals(const std::vector<std::string_view>& words, std::size_t next, AbcKey& key) {
  bool all = true;
  for (; next < words.size(); ++next) {
    if (words[next] == "exp") {
      key.alter = {};
      key.stated = false;
    } else if (!take_accidental(words[next], key)) {
      all = false;
    }
  }
  return all;
}

}  // namespace

std::optional<int> abc_letter_index(char letter) {
  constexpr std::string_view kLetters = "CDEFGAB";
  const char upper = letter >= 'a' && letter <= 'z' ? static_cast<char>(letter - 32) : letter;
  const std::size_t at = kLetters.find(upper);
  if (at == kLetters.npos) return std::nullopt;
  return static_cast<int>(at);
}

std::optional<AbcKey> parse_abc_key(std::string_view text, const AbcKey& before) {
  const std::vector<std::string_view> words = key_words(text);
  if (words.empty()) return abc_trimmed(text).empty() ? AbcKey{} : before;
  if (abc_lower(words[0]) == "none") return AbcKey{};
  if (words[0] == "HP" || words[0] == "Hp") return pipes_key();
  AbcKey key;
  std::string_view mode;
  if (!take_tonic(words[0], key, mode)) {
    if (names_clef(words[0])) return before;
    return take_accidentals(words, 0, key) ? std::optional(key) : std::nullopt;
  }
  std::size_t next = 1;
  if (mode.empty() && next < words.size() && is_mode(words[next])) mode = words[next++];
  if (!set_mode(mode, key)) return std::nullopt;
  take_accidentals(words, next, key);  // other words are none of the key's
  return key;
}

}  // namespace loftbeat::music
