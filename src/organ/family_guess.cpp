#include "organ/family_guess.h"

#include <algorithm>
#include <array>
#include <cctype>
#include <utility>

#include "organ/names.h"

namespace loftbeat::organ {
namespace {

using enum Family;

struct Word {
  std::string_view text;
  Family family;
  std::optional<Family> other = std::nullopt;
};

constexpr Word kWords[] = {
    {"diapason", principal},
    {"principal", principal},
    {"prestant", principal},
    {"montre", principal},
    {"octave", principal},
    {"oktave", principal},
    {"octav", principal},
    {"choral bass", principal},
    {"fifteenth", principal},
    {"twelfth", principal},
    {"gemshorn", principal, string},
    {"spitz", principal, open_flute},
    {"doublette", principal},
    {"flute", open_flute},
    {"flote", open_flute},
    {"flauto", open_flute},
    {"bass flute", open_flute, stopped_flute},
    {"clarabella", open_flute},
    {"claribel", open_flute},
    {"melodia", open_flute},
    {"piccolo", open_flute},
    {"flautina", open_flute},
    {"flageolet", open_flute},
    {"open wood", open_flute, principal},
    {"bourdon", stopped_flute},
    {"gedackt", stopped_flute},
    {"gedeckt", stopped_flute},
    {"lieblich", stopped_flute},
    {"stopped diapason", stopped_flute},
    {"stopped flute", stopped_flute},
    {"stopt", stopped_flute},
    {"stopt diapason", stopped_flute},
    {"lieblich flute", stopped_flute},
    {"chimney flute", stopped_flute},
    {"nason flute", stopped_flute},
    {"rohrflote", stopped_flute},
    {"rohr flute", stopped_flute},
    {"quintadena", stopped_flute},
    {"quintaton", stopped_flute},
    {"sub bass", stopped_flute},
    {"subbass", stopped_flute},
    {"nachthorn", stopped_flute, open_flute},
    {"salicional", string},
    {"gamba", string},
    {"viola", string},
    {"viole", string},
    {"violin", string},
    {"violon", string},
    {"violone", string},
    {"cello", string},
    {"dulciana", string, principal},
    {"aeoline", string},
    {"geigen", string, principal},
    {"keraulophon", string, principal},
    {"celeste", celeste},
    {"unda maris", celeste},
    {"vox angelica", celeste, string},
    {"nazard", mutation},
    {"nasard", mutation},
    {"nasat", mutation},
    {"quint", mutation, principal},
    {"tierce", mutation},
    {"terz", mutation},
    {"larigot", mutation},
    {"seventeenth", mutation},
    {"nineteenth", mutation, principal},
    {"mixture", mixture},
    {"mixtur", mixture},
    {"fourniture", mixture},
    {"plein jeu", mixture},
    {"cymbal", mixture},
    {"scharf", mixture},
    {"sesquialtera", mixture},
    {"cornet", mixture, reed},
    {"trumpet", reed},
    {"trompete", reed},
    {"trompette", reed},
    {"clarion", reed},
    {"clairon", reed},
    {"cornopean", reed},
    {"oboe", reed},
    {"hautbois", reed},
    {"hautboy", reed},
    {"horn", reed},
    {"clarinet", reed},
    {"cremona", reed},
    {"krummhorn", reed},
    {"cromorne", reed},
    {"tuba", reed},
    {"trombone", reed},
    {"posaune", reed},
    {"bombarde", reed},
    {"ophicleide", reed},
    {"bassoon", reed},
    {"fagotto", reed},
    {"fagott", reed},
    {"dulzian", reed},
    {"schalmei", reed},
    {"regal", reed},
    {"vox humana", reed},
};

// Letters of two bytes in Latin-1's part of UTF-8, by the second byte behind 0xC3; a space where
// there is none like it.
constexpr std::string_view kPlainLetters =
    "aaaaaaaceeeeiiiidnooooo ouuuuy saaaaaaaceeeeiiiidnooooo ouuuuy y";
static_assert(kPlainLetters.size() == 64);

std::string without_accents(std::string_view text) {
  std::string letters;
  for (std::size_t at = 0; at < text.size(); ++at) {
    const auto byte = static_cast<unsigned char>(text[at]);
    const bool pair = byte == 0xC3 && at + 1 < text.size();
    if (!pair) {
      letters += text[at];
      continue;
    }
    const auto second = static_cast<unsigned char>(text[++at]);
    const std::size_t index = second - 0x80U;
    letters += second >= 0x80 && index < kPlainLetters.size() ? kPlainLetters[index] : ' ';
  }
  return letters;
}

struct Hit {
  const Word* word = nullptr;
  std::size_t begin = 0;
  std::size_t end = 0;
};

// Every known word in the name that lies in no longer one, from left to right.
std::vector<Hit> hits_in(std::string_view name) {
  std::vector<Hit> hits;
  for (const Word& word : kWords) {
    const std::size_t at = name.rfind(word.text);
    if (at != std::string_view::npos) hits.push_back({&word, at, at + word.text.size()});
  }
  const std::vector<Hit> all = hits;
  std::erase_if(hits, [&](const Hit& hit) {
    return std::any_of(all.begin(), all.end(), [&](const Hit& other) {
      return other.word->text.size() > hit.word->text.size() && other.begin <= hit.begin &&
             hit.end <= other.end;
    });
  });
  std::sort(hits.begin(), hits.end(), [](const Hit& a, const Hit& b) { return a.end < b.end; });
  return hits;
}

}  // namespace

std::optional<FamilyGuess> family_of_name(std::string_view name) {
  const std::vector<Hit> hits = hits_in(without_accents(plain(name)));
  if (hits.empty()) return std::nullopt;
  FamilyGuess guess{hits.back().word->family, hits.back().word->other};
  for (const Hit& hit : hits) {
    if (hit.word->family != guess.family) guess.other = hit.word->family;
  }
  return guess;
}

std::vector<std::string> known_stop_words() {
  std::vector<std::string> words;
  for (const Word& word : kWords) {
    std::string text(word.text);
    bool first = true;
    for (char& letter : text) {
      if (first) letter = static_cast<char>(std::toupper(static_cast<unsigned char>(letter)));
      first = letter == ' ';
    }
    words.push_back(std::move(text));
  }
  return words;
}

}  // namespace loftbeat::organ
