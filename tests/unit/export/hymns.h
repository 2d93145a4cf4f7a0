#pragma once

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <string>
#include <utility>
#include <vector>

#include "music/music.h"
#include "simulate/invented_hymn.h"

namespace loftbeat::music {

// The words of a hymn by chance: a syllable on each note of the tune but some, two verses.
inline void give_words(Score& score) {
  int count = 0;
  for (const Note& note : score.notes) {
    if (note.voice != 0) continue;
    ++count;
    for (int verse = 1; verse <= 2; ++verse) {
      if (count % 7 == 5 + verse % 2) continue;
      score.words.push_back({note.onset, verse, count % 3 == 1, "la" + std::to_string(verse)});
    }
  }
  score.lyric_verses = std::max(score.lyric_verses, 2);
}

struct NamedScore {
  std::string name;
  Score score;
};

// The demo parish, our own ABC and MusicXML files, and hymns by chance.
inline std::vector<NamedScore> all_our_scores() {
  std::vector<NamedScore> scores;
  const std::string source = LOFTBEAT_SOURCE_DIR;
  for (const char* folder :
       {"/sessions/quaverham", "/tests/reference/abc/tunes", "/tests/reference/musicxml"}) {
    for (const auto& entry : std::filesystem::directory_iterator(source + folder)) {
      const auto ending = entry.path().extension();
      if (ending != ".musicxml" && ending != ".abc") continue;
      if (auto read = read_score(entry.path().string()))
        scores.push_back({entry.path().filename().string(), std::move(read->score)});
    }
  }
  const bool quick = std::getenv("LOFTBEAT_QUICK") != nullptr;
  for (std::uint64_t seed = 0; seed < (quick ? 20 : 200); ++seed) {
    Score score = simulate::invented_hymn(simulate::invented_shape(seed), seed);
    if (seed % 2 == 0 && score.words.empty()) give_words(score);
    scores.push_back({"hymn by chance " + std::to_string(seed), std::move(score)});
  }
  return scores;
}

}  // namespace loftbeat::music
