#include <algorithm>

#include "parish.h"

namespace loftbeat {
namespace {

// The rules below are those of any harmony primer (common practice, no source).

class PartWriting : public testing::TestWithParam<const char*> {
 protected:
  // Four notes for each chord, soprano first. All voices move together in these hymns.
  static std::vector<std::vector<int>> chords() {
    const music::Score score = parish_score(GetParam());
    EXPECT_EQ(score.voices, 4);
    std::vector<std::vector<int>> all;
    for (const music::Note& note : voice_of(score, 0)) {
      std::vector<int> chord;
      for (int voice = 0; voice < 4; ++voice) {
        for (const music::Note& other : voice_of(score, voice)) {
          if (other.onset == note.onset && other.length == note.length) {
            chord.push_back(other.pitch);
          }
        }
      }
      all.push_back(chord);
    }
    return all;
  }
};

TEST_P(PartWriting, every_chord_has_four_voices_in_order) {
  for (const auto& chord : chords()) {
    ASSERT_EQ(chord.size(), 4U);
    EXPECT_TRUE(std::is_sorted(chord.rbegin(), chord.rend()));
  }
}

TEST_P(PartWriting, voices_stay_within_their_ranges) {
  constexpr int kLowest[] = {60, 55, 48, 40};   // C4, G3, C3, E2
  constexpr int kHighest[] = {79, 72, 67, 60};  // G5, C5, G4, C4
  for (const auto& chord : chords()) {
    for (std::size_t voice = 0; voice < 4; ++voice) {
      EXPECT_GE(chord[voice], kLowest[voice]);
      EXPECT_LE(chord[voice], kHighest[voice]);
    }
  }
}

TEST_P(PartWriting, no_parallel_fifths_or_octaves) {
  const auto all = chords();
  for (std::size_t i = 1; i < all.size(); ++i) {
    for (std::size_t upper = 0; upper < 4; ++upper) {
      for (std::size_t lower = upper + 1; lower < 4; ++lower) {
        const int before = (all[i - 1][upper] - all[i - 1][lower]) % 12;
        const int after = (all[i][upper] - all[i][lower]) % 12;
        const bool both_move =
            all[i - 1][upper] != all[i][upper] && all[i - 1][lower] != all[i][lower];
        EXPECT_FALSE(both_move && before == after && (after == 0 || after == 7))
            << "chord " << i + 1 << ", voices " << upper << " and " << lower;
      }
    }
  }
}

TEST_P(PartWriting, upper_voices_lie_within_an_octave_of_each_other) {
  for (const auto& chord : chords()) {
    EXPECT_LE(chord[0] - chord[1], 12);
    EXPECT_LE(chord[1] - chord[2], 12);
  }
}

INSTANTIATE_TEST_SUITE_P(Parish, PartWriting, testing::Values("evening", "old-hundredth", "azmon"));

}  // namespace
}  // namespace loftbeat
