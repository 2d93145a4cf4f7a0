#include "practice/hymn_search.h"

#include <algorithm>
#include <cstdint>
#include <iterator>
#include <string_view>

namespace loftbeat::practice {
namespace {

// The letters of ISO-8859-1 from À on without their accents; a space stands for no letter.
constexpr std::string_view kWithoutAccents =
    "aaaaaaaceeeeiiiidnooooo ouuuuytsaaaaaaaceeeeiiiidnooooo ouuuuyty";

// Small letters without accents; signs become spaces, apostrophes nothing.
std::string folded(std::string_view text) {
  std::string plain;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const auto c = static_cast<unsigned char>(text[i]);
    const auto next = i + 1 < text.size() ? static_cast<unsigned char>(text[i + 1]) : 0U;
    if (c == 0xC3 && next >= 0x80 && next <= 0xBF) {
      plain += kWithoutAccents[next - 0x80];
      ++i;
    } else if (c >= 'A' && c <= 'Z') {
      plain += static_cast<char>(c + 32);
    } else if (c >= 0x80 || (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9')) {
      plain += static_cast<char>(c);
    } else if (c != '\'') {
      plain += ' ';
    }
  }
  return plain;
}

std::vector<std::string> folded_words(const std::string& text) {
  std::vector<std::string> words;
  std::string word;
  for (const char c : folded(text) + " ") {
    if (c != ' ') {
      word += c;
    } else if (!word.empty()) {
      words.push_back(word);
      word.clear();
    }
  }
  return words;
}

}  // namespace

std::vector<const Hymn*> all_hymns(const HymnIndex& index) {
  std::vector<std::pair<std::string, const Hymn*>> named;
  for (const IndexedFile& file : index.files)
    for (const Hymn& hymn : file.hymns) named.emplace_back(folded(hymn_name(hymn)), &hymn);
  std::stable_sort(named.begin(), named.end(),
                   [](const auto& a, const auto& b) { return a.first < b.first; });
  std::vector<const Hymn*> hymns;
  hymns.reserve(named.size());
  for (const auto& [name, hymn] : named) hymns.push_back(hymn);
  return hymns;
}

std::vector<const UnreadHymn*> all_unread(const HymnIndex& index) {
  std::vector<const UnreadHymn*> all;
  for (const IndexedFile& file : index.files)
    for (const UnreadHymn& unread : file.unread) all.push_back(&unread);
  return all;
}

std::vector<const Hymn*> with_words(const std::vector<const Hymn*>& hymns,
                                    const std::string& words) {
  const std::vector<std::string> wanted = folded_words(words);
  std::vector<const Hymn*> found;
  for (const Hymn* hymn : hymns) {
    const std::string text =
        folded(hymn->title + " " + hymn->tune + " " + hymn->first_line + " " + hymn->where);
    if (std::all_of(wanted.begin(), wanted.end(),
                    [&](const std::string& word) { return text.find(word) != std::string::npos; }))
      found.push_back(hymn);
  }
  return found;
}

std::vector<const Hymn*> with_metre(const std::vector<const Hymn*>& hymns,
                                    const music::PoeticMetre& metre) {
  std::vector<const Hymn*> found;
  std::copy_if(hymns.begin(), hymns.end(), std::back_inserter(found), [&](const Hymn* hymn) {
    return hymn->metre_source != MetreSource::none && hymn->poetic_metre.lines == metre.lines;
  });
  return found;
}

std::string metre_words(const Hymn& hymn) {
  if (hymn.metre_source == MetreSource::none) return "–";
  const std::string words = music::format_poetic_metre(hymn.poetic_metre);
  return hymn.metre_source == MetreSource::counted ? words + " *" : words;
}

}  // namespace loftbeat::practice
