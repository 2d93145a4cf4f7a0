#include <gtest/gtest.h>

#include <algorithm>

#include "scenes.h"

namespace loftbeat::test {
namespace {

class Routes : public ::testing::Test {
 protected:
  follow::Alignment align(plan::Route route = open_route()) {
    sort(take);
    auto found = follow::align(score, route, 60, take);
    EXPECT_TRUE(found.ok()) << to_string(found.error());
    return found.ok() ? std::move(found).value() : follow::Alignment{};
  }
  double whole(double at, int transpose = 0) {
    return play(take, chords, 0, chords.size(), at, 1.0, transpose);
  }

  std::vector<std::vector<int>> chords = sixteen_chords();
  music::Score score = crotchets(chords);
  take::CleanTake take;
};

TEST_F(Routes, ThreeVersesAreCounted) {
  double at = 1;
  for (int verse = 0; verse < 3; ++verse) at = whole(at) + 2;
  const follow::Alignment found = align();
  ASSERT_EQ(found.passes.size(), 3u);
  EXPECT_EQ(found.passes[0].label, "1");
  EXPECT_EQ(found.passes[2].label, "3");
  EXPECT_TRUE(found.missed.empty());
  EXPECT_EQ(found.matched_share, 1.0);
}

TEST_F(Routes, AShorterFirstPassIsThePlayOver) {
  score.phrases = {{{0, 4 * kTicksPerQuarter}},
                   {{4 * kTicksPerQuarter, 8 * kTicksPerQuarter}},
                   {{8 * kTicksPerQuarter, 12 * kTicksPerQuarter}},
                   {{12 * kTicksPerQuarter, 16 * kTicksPerQuarter}}};
  double at = play(take, chords, 0, 4, 1, 1.0) + 2;
  at = whole(at) + 2;
  whole(at);
  const follow::Alignment found = align();
  ASSERT_EQ(found.passes.size(), 3u);
  EXPECT_EQ(found.passes[0].label, "play-over");
  EXPECT_EQ(found.passes[1].label, "1");
  EXPECT_EQ(found.label_source, "order");
}

TEST_F(Routes, OnePassMoreThanTheLyricsHaveVersesIsThePlayOver) {
  score.lyric_verses = 2;
  double at = 1;
  for (int pass = 0; pass < 3; ++pass) at = whole(at) + 2;
  const follow::Alignment found = align();
  ASSERT_EQ(found.passes.size(), 3u);
  EXPECT_EQ(found.passes[0].label, "play-over");
  EXPECT_EQ(found.label_source, "lyrics");
}

TEST_F(Routes, AVerseAToneUpIsTheSameTune) {
  double at = whole(1) + 2;
  whole(at, 2);
  const follow::Alignment found = align();
  ASSERT_EQ(found.passes.size(), 2u);
  EXPECT_EQ(found.passes[1].transpose_semitones, 2);
  EXPECT_TRUE(found.missed.empty());
}

TEST_F(Routes, ATransposedKeyboardIsSaid) {
  double at = whole(1, -3) + 2;
  whole(at, -3);
  const follow::Alignment found = align();
  ASSERT_EQ(found.passes.size(), 2u);
  EXPECT_EQ(found.passes[0].transpose_semitones, -3);
  EXPECT_EQ(found.notices.size(), 1u);
}

TEST_F(Routes, GoingBackGoesOnWithThePassAndKeepsTheLastTime) {
  double at = play(take, chords, 0, 10, 1, 1.0) + 1;
  play(take, chords, 8, 16, at, 1.0);
  const follow::Alignment found = align();
  ASSERT_EQ(found.passes.size(), 1u);
  ASSERT_EQ(found.passes[0].restarts.size(), 1u);
  const follow::Restart& restart = found.passes[0].restarts[0];
  EXPECT_EQ(restart.from, 9 * kTicksPerQuarter);
  EXPECT_EQ(restart.to, 8 * kTicksPerQuarter);
  EXPECT_FALSE(restart.false_start);
  EXPECT_NEAR(seconds(restart.at), at, 1e-6);
  EXPECT_NEAR(seconds(found.passes[0].onsets[8].median), at, 1e-6);
}

TEST_F(Routes, BeginningAgainBeforeHalfIsAFalseStart) {
  double at = play(take, chords, 0, 3, 1, 1.0) + 1;
  whole(at);
  const follow::Alignment found = align();
  ASSERT_EQ(found.passes.size(), 1u);
  ASSERT_EQ(found.passes[0].restarts.size(), 1u);
  EXPECT_TRUE(found.passes[0].restarts[0].false_start);
  EXPECT_NEAR(seconds(found.passes[0].onsets[0].median), at, 1e-6);
}

TEST_F(Routes, EightBeatsOfNothingCloseTheRun) {
  double at = whole(1) + 2;
  at = whole(at) + 9;
  whole(at);
  const follow::Alignment found = align();
  ASSERT_EQ(found.passes.size(), 3u);
  EXPECT_EQ(found.passes[1].run, 1);
  EXPECT_EQ(found.passes[2].run, 2);
  EXPECT_EQ(found.passes[2].label, "1");
}

TEST_F(Routes, APhraseLeftOutIsTold) {
  double at = play(take, chords, 0, 4, 1, 1.0);
  play(take, chords, 8, 16, at, 1.0);
  const follow::Alignment found = align();
  ASSERT_EQ(found.passes.size(), 1u);
  ASSERT_EQ(found.passes[0].omissions.size(), 1u);
  EXPECT_EQ(found.passes[0].omissions[0].left_out.begin, 4 * kTicksPerQuarter);
  EXPECT_EQ(found.passes[0].omissions[0].left_out.end, 8 * kTicksPerQuarter);
}

TEST_F(Routes, AnInterludeIsNoPass) {
  double at = whole(1) + 1;
  for (int k = 0; k < 6; ++k, at += 1) {
    for (int pitch : {56 + 5 * (k % 3), 61 + k, 66 + 2 * (k % 2)})
      strike(take, at, at + 0.9, pitch);
  }
  whole(at + 1);
  const follow::Alignment found = align();
  ASSERT_EQ(found.passes.size(), 2u);
  ASSERT_EQ(found.asides.size(), 1u);
  EXPECT_EQ(found.asides[0].after_pass, 0);
  EXPECT_FALSE(found.asides[0].amen);
}

TEST_F(Routes, MelodyAloneMissesNothing) {
  for (std::size_t k = 0; k < chords.size(); ++k) {
    const double at = 1 + static_cast<double>(k);
    strike(take, at, at + 0.9, chords[k][0]);
  }
  const follow::Alignment found = align();
  ASSERT_EQ(found.passes.size(), 1u);
  EXPECT_TRUE(found.missed.empty());
  EXPECT_EQ(found.passes[0].voices_sounded, (std::vector<bool>{true, false, false, false}));
}

TEST_F(Routes, AnotherTuneDoesNotFit) {
  for (int k = 0; k < 40; ++k) {
    const double at = 1 + 0.31 * k;
    strike(take, at, at + 0.2, 30 + (k * 37) % 61);
  }
  sort(take);
  const auto found = follow::align(score, open_route(), 60, take);
  ASSERT_FALSE(found.ok());
  EXPECT_EQ(found.error().kind, ErrorKind::no_fit);
}

TEST_F(Routes, AnEmptyTakeDoesNotFit) {
  const auto found = follow::align(score, open_route(), 60, take);
  ASSERT_FALSE(found.ok());
  EXPECT_EQ(found.error().kind, ErrorKind::no_fit);
}

TEST_F(Routes, HalfAndDoubleTheSetTempoAreFollowed) {
  for (double beat : {0.5, 2.0}) {
    take.notes.clear();
    double at = play(take, chords, 0, 16, 1, beat) + 2 * beat;
    play(take, chords, 0, 16, at, beat);
    const follow::Alignment found = align();
    EXPECT_EQ(found.passes.size(), 2u) << "beat " << beat;
    EXPECT_TRUE(found.missed.empty()) << "beat " << beat;
  }
}

TEST_F(Routes, ACorrectionIsTold) {
  double at = 1;
  for (std::size_t k = 0; k < chords.size(); ++k, at += 1) {
    for (std::size_t v = 0; v < 4; ++v) {
      const bool corrected = k == 6 && v == 0;
      if (corrected) strike(take, at, at + 0.2, chords[k][v] + 1);
      strike(take, corrected ? at + 0.25 : at, at + 0.9, chords[k][v]);
    }
  }
  const follow::Alignment found = align();
  ASSERT_EQ(found.passes.size(), 1u);
  ASSERT_EQ(found.passes[0].corrections.size(), 1u);
  EXPECT_EQ(found.passes[0].corrections[0].tick, 6 * kTicksPerQuarter);
  EXPECT_EQ(found.passes[0].corrections[0].wrong_pitch, chords[6][0] + 1);
  EXPECT_EQ(found.passes[0].corrections[0].cost.count(), 0);
}

TEST_F(Routes, AUnisonOfTwoVoicesIsHeldNotMissed) {
  chords[5][1] = chords[5][0];
  score = crotchets(chords);
  double at = 1;
  for (std::size_t k = 0; k < chords.size(); ++k, at += 1) {
    for (std::size_t v = 0; v < 4; ++v) {
      if (k == 5 && v == 1) continue;
      strike(take, at, at + 0.9, chords[k][v]);
    }
  }
  const follow::Alignment found = align();
  EXPECT_TRUE(found.missed.empty());
  EXPECT_EQ(found.held.size(), 1u);
}

}  // namespace
}  // namespace loftbeat::test
