// Order of playing. Expected orders are worked out by hand from the signs; what they mean is
// common practice, no source. The frozen tables of tests/reference/musicxml check the same against
// an independent program.

#include "music/repeats.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <numeric>

namespace loftbeat::music {
namespace {

using Signs = std::vector<RepeatSigns>;

std::string order(const Signs& signs) {
  const auto played = play_order(signs);
  EXPECT_TRUE(played.ok());
  std::string text;
  for (const PlayedBar& bar : *played) text += std::to_string(bar.written);
  return text;
}

TEST(PlayOrder, WithoutSignsIsAsWritten) { EXPECT_EQ(order(Signs(4)), "0123"); }

TEST(PlayOrder, RepeatGoesBackToItsBegin) {
  Signs s(4);
  s[1].forward = true;
  s[2].backward = 2;
  EXPECT_EQ(order(s), "012123");
}

TEST(PlayOrder, RepeatWithoutBeginGoesBackToTheStart) {
  Signs s(3);
  s[1].backward = 2;
  EXPECT_EQ(order(s), "01012");
}

TEST(PlayOrder, SecondRepeatWithoutBeginGoesBackToTheFirst) {
  Signs s(4);
  s[1].backward = 2;
  s[3].backward = 2;
  EXPECT_EQ(order(s), "01012323");
}

TEST(PlayOrder, TimesAreCountedInAll) {
  Signs s(2);
  s[0].backward = 4;
  EXPECT_EQ(order(s), "00001");
  s[0].backward = 1;
  EXPECT_EQ(order(s), "01");
}

TEST(PlayOrder, EndingsFollowTheirNumbers) {
  Signs s(5);
  s[0].forward = true;
  s[1].ending = {1, 2};
  s[1].ending_stops = true;
  s[1].backward = 2;
  s[2].ending = {3};
  s[3].ending_stops = true;
  EXPECT_EQ(order(s),
            "010102"
            "34");
}

TEST(PlayOrder, FirstEndingAloneIsLeftOutTheSecondTime) {
  Signs s(4);
  s[1].ending = {1};
  s[1].backward = 2;
  EXPECT_EQ(order(s), "01023");
}

TEST(PlayOrder, EndingsOfTwoSectionsCountAfresh) {
  Signs s(6);
  for (std::size_t at : {0u, 3u}) {
    s[at].forward = true;
    s[at + 1].ending = {1};
    s[at + 1].backward = 2;
    s[at + 2].ending = {2};
    s[at + 2].ending_stops = true;
  }
  EXPECT_EQ(order(s), "01023435");
}

TEST(PlayOrder, DaCapoAlFineTakesNoRepeatAgain) {
  Signs s(5);
  s[1].backward = 2;
  s[2].fine = true;
  s[4].da_capo = true;
  EXPECT_EQ(order(s), "0101234012");
}

TEST(PlayOrder, DaCapoTakesTheLastEnding) {
  Signs s(5);
  s[1].ending = {1};
  s[1].backward = 2;
  s[2].ending = {2};
  s[2].ending_stops = true;
  s[3].fine = true;
  s[4].da_capo = true;
  EXPECT_EQ(order(s),
            "01023402"
            "3");
}

TEST(PlayOrder, DalSegnoAlCoda) {
  Signs s(6);
  s[1].segno = "-";
  s[2].to_coda = "-";
  s[4].dal_segno = "-";
  s[5].coda = "-";
  EXPECT_EQ(order(s), "01234125");
}

TEST(PlayOrder, LabelsPairJumpsWithTheirTargets) {
  Signs s(5);
  s[1].segno = "a";
  s[2].segno = "b";
  s[3].dal_segno = "b";
  EXPECT_EQ(order(s), "0123234");
}

TEST(PlayOrder, FineBeforeAnyJumpIsPassed) {
  Signs s(2);
  s[0].fine = true;
  EXPECT_EQ(order(s), "01");
}

TEST(PlayOrder, JumpWithoutTargetIsPassedOver) {
  Signs s(3);
  s[1].dal_segno = "-";
  s[0].to_coda = "-";
  EXPECT_EQ(order(s), "012");
}

TEST(PlayOrder, TellsHowOftenARepeatWasGoneThrough) {
  Signs s(2);
  s[0].backward = 3;
  const auto played = play_order(s);
  ASSERT_TRUE(played.ok());
  EXPECT_EQ((*played)[2], (PlayedBar{0, 3}));
  EXPECT_EQ((*played)[3], (PlayedBar{1, 1}));
}

TEST(PlayOrder, IsBounded) {
  Signs s(10);
  s[9].backward = 1'000'000'000;
  const auto played = play_order(s);
  ASSERT_FALSE(played.ok());
  EXPECT_EQ(played.error().kind, ErrorKind::too_large);
}

RC_GTEST_PROP(PlayOrder, AlwaysEndsAndStaysInside, ()) {
  const auto count = *rc::gen::inRange<std::size_t>(1, 30);
  Signs s(count);
  for (RepeatSigns& bar : s) {
    bar.forward = *rc::gen::weightedElement<bool>({{4, false}, {1, true}});
    bar.backward = *rc::gen::weightedElement<int>({{6, 0}, {1, 1}, {2, 2}, {1, 3}});
    bar.ending =
        *rc::gen::weightedElement<std::vector<int>>({{6, {}}, {1, {1}}, {1, {2}}, {1, {1, 3}}});
    bar.ending_stops = *rc::gen::arbitrary<bool>();
    bar.segno = *rc::gen::element<std::string>("", "", "-", "a");
    bar.coda = *rc::gen::element<std::string>("", "", "-", "a");
    bar.to_coda = *rc::gen::element<std::string>("", "", "-");
    bar.dal_segno = *rc::gen::element<std::string>("", "", "a");
    bar.da_capo = *rc::gen::weightedElement<bool>({{9, false}, {1, true}});
    bar.fine = *rc::gen::weightedElement<bool>({{9, false}, {1, true}});
  }
  const auto played = play_order(s);
  RC_ASSERT(played.ok());
  // Each bar at most three times by its repeat and once more after a jump.
  RC_ASSERT(played->size() <= 4 * count);
  for (const PlayedBar& bar : *played) RC_ASSERT(bar.written < count);
}

RC_GTEST_PROP(PlayOrder, SimpleRepeatsPlayEveryBarTheStatedTimes, ()) {
  // Sections of one to four bars, each between its own signs.
  const auto times = *rc::gen::container<std::vector<int>>(rc::gen::inRange(1, 5));
  Signs s;
  std::vector<int> expected;
  for (const int n : times) {
    const auto length = *rc::gen::inRange<std::size_t>(1, 5);
    const std::size_t begin = s.size();
    s.resize(begin + length);
    s[begin].forward = true;
    s.back().backward = n;
    expected.insert(expected.end(), length, n);
  }
  const auto played = play_order(s);
  RC_ASSERT(played.ok());
  std::vector<int> counts(s.size(), 0);
  for (const PlayedBar& bar : *played) ++counts[bar.written];
  RC_ASSERT(counts == expected);
}

}  // namespace
}  // namespace loftbeat::music
