#pragma once

#include <random>
#include <string>

#include "practice/hymn_index.h"

namespace loftbeat::practice {

// An index by chance, with every kind of field used.
inline HymnIndex some_index(std::uint64_t seed) {
  std::mt19937_64 random(seed);
  const auto below = [&](std::uint64_t limit) { return static_cast<int>(random() % limit); };
  const auto text = [&] {
    std::string made;
    const std::string letters = "aZ \t\n\\\"'é–#/.";
    for (int i = below(12); i > 0; --i) made += letters[random() % letters.size()];
    return made;
  };
  HymnIndex index;
  index.folder = "/some/folder" + text();
  for (int f = 0; f < 1 + below(6); ++f) {
    IndexedFile file;
    file.path = std::string(1, static_cast<char>('a' + f)) + text();
    file.bytes = random();
    file.changed_ns = static_cast<std::int64_t>(random());
    for (int h = below(3); h > 0; --h) {
      Hymn hymn;
      hymn.where = file.path + "#" + std::to_string(h);
      hymn.title = text();
      hymn.tune = text();
      hymn.first_line = text();
      hymn.metre_source = static_cast<MetreSource>(below(3));
      for (int k = below(6); k > 0; --k) hymn.poetic_metre.lines.push_back(2 + below(14));
      hymn.poetic_metre.refrain = below(2) == 1;
      hymn.key_known = below(2) == 1;
      hymn.fifths = below(15) - 7;
      hymn.minor = below(2) == 1;
      hymn.beats = 1 + below(16);
      hymn.beat_type = 1 << below(6);
      hymn.upbeat = below(2) == 1;
      hymn.bars = below(200);
      hymn.phrases = below(10);
      hymn.verses = below(20);
      hymn.lowest = below(128);
      hymn.highest = below(128);
      Tick at = 0;
      for (int k = below(30); k > 0; --k) {
        hymn.outline.notes.push_back({at, below(128)});
        at += 1 + below(20'000);
      }
      hymn.outline.lines = {0};
      if (hymn.outline.notes.size() > 3) hymn.outline.lines.push_back(2);
      file.hymns.push_back(std::move(hymn));
    }
    if (below(3) == 0) file.unread.push_back({file.path, text(), below(2) == 1});
    index.files.push_back(std::move(file));
  }
  return index;
}

}  // namespace loftbeat::practice
