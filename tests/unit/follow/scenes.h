#pragma once

#include <algorithm>
#include <string>
#include <utility>
#include <vector>

#include "follow/alignment.h"
#include "music/score.h"
#include "take/take.h"

namespace loftbeat::test {

// Small scenes for tests: a tune of crotchets in 4/4 and somebody's playing of it.

// One chord a crotchet; the first pitch of a chord is the tune.
inline music::Score crotchets(const std::vector<std::vector<int>>& chords) {
  music::Score score;
  for (std::size_t k = 0; k < chords.size(); ++k) {
    std::vector<music::Note> notes;
    for (std::size_t v = 0; v < chords[k].size(); ++v) {
      notes.push_back({static_cast<Tick>(k) * kTicksPerQuarter, kTicksPerQuarter, chords[k][v],
                       static_cast<int>(v), 0});
      score.voices = std::max(score.voices, static_cast<int>(v) + 1);
    }
    std::sort(notes.begin(), notes.end(),
              [](const music::Note& a, const music::Note& b) { return a.pitch < b.pitch; });
    score.notes.insert(score.notes.end(), notes.begin(), notes.end());
  }
  score.length = static_cast<Tick>(chords.size()) * kTicksPerQuarter;
  for (Tick t = 0; t < score.length; t += 4 * kTicksPerQuarter) {
    score.bars.push_back(
        {t, 4 * kTicksPerQuarter, std::to_string(score.bars.size() + 1), 4, 4, false});
  }
  score.staves = 1;
  return score;
}

// Adds one struck key, in seconds.
inline void strike(take::CleanTake& take, double on, double off, int pitch) {
  take::TakenNote note;
  note.on = instant_from_seconds(on);
  note.off = note.sound_off = instant_from_seconds(off);
  note.pitch = static_cast<std::uint8_t>(pitch);
  take.notes.push_back(note);
}

// Plays chords [from, to) of the tune, `beat` seconds each, beginning at `at`; gives the end.
inline double play(take::CleanTake& take, const std::vector<std::vector<int>>& chords,
                   std::size_t from, std::size_t to, double at, double beat, int transpose = 0) {
  for (std::size_t k = from; k < to; ++k, at += beat) {
    for (int pitch : chords[k]) strike(take, at, at + 0.9 * beat, pitch + transpose);
  }
  return at;
}

inline void sort(take::CleanTake& take) {
  std::stable_sort(take.notes.begin(), take.notes.end(),
                   [](const take::TakenNote& a, const take::TakenNote& b) {
                     return a.on != b.on ? a.on < b.on : a.pitch < b.pitch;
                   });
}

// Sixteen chords, no two alike.
inline std::vector<std::vector<int>> sixteen_chords() {
  return {{67, 62, 59, 43}, {69, 64, 60, 45}, {71, 62, 55, 47}, {72, 64, 55, 48},
          {74, 65, 59, 50}, {71, 67, 62, 55}, {69, 66, 57, 50}, {67, 59, 55, 52},
          {76, 67, 60, 48}, {74, 66, 57, 54}, {72, 69, 60, 53}, {71, 68, 59, 52},
          {69, 60, 57, 45}, {72, 63, 57, 51}, {70, 62, 58, 46}, {67, 60, 52, 36}};
}

inline plan::Route open_route() {
  plan::Route route;
  route.verses_known = false;
  route.play_over_known = false;
  return route;
}

}  // namespace loftbeat::test
