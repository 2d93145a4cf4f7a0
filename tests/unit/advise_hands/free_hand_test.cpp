#include "advise/free_hand.h"

#include <gtest/gtest.h>

#include "consoles.h"

namespace loftbeat::advise {
namespace {

using plan::Texture;

TEST(FreeHand, ThePedalFreesAHandInACloseChord) {
  const music::Score score = chorale();
  const FreeHand free = free_hand_at_end(score, verse(score, "1"));
  EXPECT_TRUE(free.left);
  EXPECT_TRUE(free.right);
  EXPECT_EQ(free.in_hands, (std::vector<int>{62, 67, 71}));
  EXPECT_EQ(free.span_semitones, 9);
}

TEST(FreeHand, WithoutPedalTheBassBindsTheLeftHand) {
  const music::Score score = chorale();
  const FreeHand free = free_hand_at_end(score, verse(score, "1", {Texture::no_pedal}));
  EXPECT_FALSE(free.any());
  EXPECT_EQ(free.bind_left, (std::vector<int>{43}));
  EXPECT_EQ(free.bind_right, (std::vector<int>{62, 67, 71}));
}

// Common practice, no source: a tenth at most.
TEST(FreeHand, ATenthIsTheLimit) {
  for (int span = 8; span <= 24; ++span) {
    const music::Score score = chorale({}, {55 + span, 60, 55, 43});
    const FreeHand free = free_hand_at_end(score, verse(score, "1"));
    EXPECT_EQ(free.any(), span <= kStretchSemitones) << span;
    // A wider hand holds at least what a narrower one does.
    EXPECT_TRUE(!free.any() || free_hand_at_end(score, verse(score, "1"), 17).any());
  }
}

TEST(FreeHand, TexturesChangeWhatIsHeld) {
  const music::Score score = chorale();
  EXPECT_TRUE(free_hand_at_end(score, verse(score, "1", {Texture::unison})).any());
  EXPECT_FALSE(free_hand_at_end(score, verse(score, "1", {Texture::tune_up_octave})).any());
  const FreeHand fuller = free_hand_at_end(score, verse(score, "1", {Texture::fuller}));
  EXPECT_FALSE(fuller.as_written);
  plan::RoutePass alone = verse(score, "1");
  alone.unaccompanied = true;
  EXPECT_TRUE(free_hand_at_end(score, alone).left && free_hand_at_end(score, alone).right);
}

TEST(FreeHand, OnlyTheLeftMayGoFromAHighChord) {
  const music::Score score = chorale({}, {88, 84, 79, 43});
  const FreeHand free = free_hand_at_end(score, verse(score, "1"));
  EXPECT_TRUE(free.left);
  EXPECT_FALSE(free.right);
  EXPECT_EQ(free.bind_right, (std::vector<int>{88}));
}

TEST(FreeHand, LooksAtTheChordOfTheJoin) {
  const music::Score score = chorale({76, 64, 52, 43}, {});
  EXPECT_TRUE(free_hand_at_end(score, verse(score, "1")).any());
  EXPECT_FALSE(free_hand_at_start(score, verse(score, "2")).any());
}

}  // namespace
}  // namespace loftbeat::advise
