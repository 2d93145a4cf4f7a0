#include <gtest/gtest.h>

#include <random>

#include "smf_tune.h"

namespace loftbeat::music {
namespace {

int voice_of(const Score& score, Tick quarter, int pitch) {
  for (const Note& note : score.notes) {
    if (note.onset == quarter * kTicksPerQuarter && note.pitch == pitch) return note.voice;
  }
  return -1;
}

void chord(Tune& tune, int beat, std::initializer_list<int> pitches) {
  for (const int pitch : pitches) tune.note(beat * 480, 480, pitch);
}

TEST(SmfVoices, CountFromTheTopOfAFourPartHymn) {
  Tune tune;
  for (int i = 0; i < 8; ++i) chord(tune, i, {72 + i % 3, 64, 60 - i % 2, 48});
  const Score score = tune.score().score;
  EXPECT_EQ(score.voices, 4);
  EXPECT_EQ(score.staves, 1);
  EXPECT_EQ(voice_of(score, 4, 73), 0);
  EXPECT_EQ(voice_of(score, 4, 64), 1);
  EXPECT_EQ(voice_of(score, 5, 59), 2);
  EXPECT_EQ(voice_of(score, 4, 48), 3);
}

TEST(SmfVoices, StayWhereOnlyOneVoiceMoves) {
  Tune tune;
  for (int i = 0; i < 8; ++i) {
    tune.note(i * 960, 960, 72).note(i * 960, 960, 65).note(i * 960, 960, 48);
    tune.note(i * 960, 480, 57).note(i * 960 + 480, 480, 58);
  }
  const Score score = tune.score().score;
  EXPECT_EQ(score.voices, 4);
  for (Tick i = 0; i < 8; ++i) EXPECT_EQ(voice_of(score, 2 * i + 1, 58), 2);
}

TEST(SmfVoices, FollowTheTracksFromHighToLow) {
  Tune tune(480, 3);
  for (int i = 0; i < 4; ++i) {
    tune.note(i * 480, 480, 40, 0).note(i * 480, 480, 70, 1).note(i * 480, 480, 55, 2);
  }
  const Score score = tune.score().score;
  EXPECT_EQ(score.voices, 3);
  EXPECT_EQ(score.staves, 3);
  EXPECT_EQ(voice_of(score, 2, 70), 0);
  EXPECT_EQ(voice_of(score, 2, 55), 1);
  EXPECT_EQ(voice_of(score, 2, 40), 2);
}

TEST(SmfVoices, KeepAUnisonAsTwoNotes) {
  Tune tune(480, 2);
  for (int i = 0; i < 4; ++i) tune.note(i * 480, 480, 62, 0).note(i * 480, 480, 60 + i, 1);
  const Score score = tune.score().score;
  EXPECT_EQ(score.notes.size(), 8u);
}

TEST(SmfVoices, HoldTenVoicesAndATrill) {
  Tune tune;
  for (int i = 0; i < 4; ++i) {
    for (int v = 0; v < 9; ++v) tune.note(i * 1920, 1920, 40 + 4 * v);
    for (int k = 0; k < 32; ++k) tune.note(i * 1920 + k * 60, 60, k % 2 ? 86 : 84);
  }
  const Score score = tune.score().score;
  EXPECT_EQ(score.notes.size(), 4u * (9 + 32));
  EXPECT_EQ(score.voices, 10);
  for (const Note& note : score.notes) {
    if (note.pitch >= 84) {
      EXPECT_EQ(note.voice, 0);
    }
    if (note.pitch == 40) {
      EXPECT_EQ(note.voice, 9);
    }
  }
}

// Laws on any music: no voice sounds two notes at once but the last ones of crowded chords, and
// the top note of a chord on a silent background is the top voice's.
TEST(SmfVoices, NeverCrossWithinAChord) {
  for (std::uint32_t seed = 0; seed < 50; ++seed) {
    std::mt19937 random(seed);
    Tune tune;
    for (int beat = 0; beat < 40; ++beat) {
      const int size = std::uniform_int_distribution<int>(1, 6)(random);
      int pitch = 90;
      for (int i = 0; i < size; ++i) {
        pitch -= std::uniform_int_distribution<int>(1, 9)(random);
        tune.note(beat * 480, 480, pitch);
      }
    }
    const Score score = tune.score().score;
    for (std::size_t i = 1; i < score.notes.size(); ++i) {
      const Note& low = score.notes[i - 1];
      const Note& high = score.notes[i];
      const bool last = i + 1 == score.notes.size() || score.notes[i + 1].onset != high.onset;
      if (last) {
        EXPECT_EQ(high.voice, 0) << seed;
      }
      if (low.onset == high.onset) {
        EXPECT_NE(low.voice, high.voice) << seed;
      }
    }
  }
}

}  // namespace
}  // namespace loftbeat::music
