// What the walk takes for jumps and no player does.

#include "follow/detours.h"

#include <gtest/gtest.h>

#include "scenes.h"

namespace loftbeat::test {
namespace {

class Detours : public ::testing::Test {
 protected:
  // Onsets [from, to), a second each from `at` on; each was one note, the tune's.
  void stretch(int from, int to, double at) {
    follow::Stretch made{notes.size(), notes.size(), 0, 0, {}};
    for (int k = from; k < to; ++k, at += 1.0) {
      made.anchors.push_back({k, instant_from_seconds(at), 1});
      follow::Heard note{};
      note.at = instant_from_seconds(at);
      note.pitch = chords[static_cast<std::size_t>(k)].front();
      notes.push_back(note);
    }
    made.last = notes.size();
    stretches.push_back(made);
  }
  // A chord heard as onset `onset` with `top` as its highest note.
  void chord(int onset, double at, int top) {
    stretch(onset, onset + 1, at);
    notes.back().pitch = top;
  }
  void join_last() { follow::join_last_chords(table, notes, {0}, stretches); }

  std::vector<std::vector<int>> chords = sixteen_chords();
  music::Score score = crotchets(chords);
  follow::OnsetTable table{score, {}};
  std::vector<follow::Heard> notes;
  std::vector<follow::Stretch> stretches;
};

TEST_F(Detours, TwoChordsHeardElsewhereBelongWherePlayingGoesOn) {
  stretch(0, 5, 10);
  stretch(12, 14, 15);
  stretch(7, 14, 17);
  follow::iron_out_detours(table, stretches);
  ASSERT_EQ(stretches.size(), 1u);
  EXPECT_EQ(stretches[0].first, 0u);
  EXPECT_EQ(stretches[0].last, notes.size());
  EXPECT_EQ(stretches[0].anchors.size(), 12u);
  EXPECT_EQ(stretches[0].last_onset(), 13);
}

TEST_F(Detours, AReturnThatIsNotInTimeIsAJump) {
  stretch(0, 5, 10);
  stretch(12, 14, 15);
  stretch(7, 14, 19);
  follow::iron_out_detours(table, stretches);
  EXPECT_EQ(stretches.size(), 3u);
}

TEST_F(Detours, ARestartIsNoDetour) {
  stretch(0, 8, 10);
  stretch(4, 6, 19);
  stretch(4, 12, 22);
  follow::iron_out_detours(table, stretches);
  EXPECT_EQ(stretches.size(), 3u);
}

TEST_F(Detours, LastChordsVoicedAnewCloseTheTune) {
  stretch(0, 14, 10);
  stretch(5, 7, 24);  // quarters 14 and 15 are due at 24 and 25 s
  join_last();
  ASSERT_EQ(stretches.size(), 1u);
  EXPECT_EQ(stretches[0].last_onset(), 15);
  EXPECT_EQ(stretches[0].last, notes.size());
}

TEST_F(Detours, AChordWithTheLastNoteOnTopIsTheLastOne) {
  stretch(0, 15, 10);
  chord(0, 25.5, chords.back().front());
  join_last();
  EXPECT_EQ(stretches.size(), 1u);
}

TEST_F(Detours, AFalseStartOfTheNextVerseIsLeft) {
  stretch(0, 15, 10);
  chord(0, 25.5, 74);
  stretch(0, 16, 29);
  join_last();
  EXPECT_EQ(stretches.size(), 3u);
}

TEST_F(Detours, ThePlayingOfTheEndOnceMoreIsLeft) {
  stretch(0, 14, 10);
  stretch(13, 16, 25);
  join_last();
  EXPECT_EQ(stretches.size(), 2u);
}

TEST_F(Detours, WhatComesTooLateIsNotTheLastChord) {
  stretch(0, 14, 10);
  stretch(5, 6, 40);
  join_last();
  EXPECT_EQ(stretches.size(), 2u);
}

}  // namespace
}  // namespace loftbeat::test
