#include <gtest/gtest.h>

#include "plan/read.h"
#include "plan/route.h"
#include "tunes.h"

namespace loftbeat::plan {
namespace {

std::string drawn(std::string_view join, const music::Score& score,
                  BeatUnit beat = BeatUnit::quarter) {
  return draw_join(*parse_join(join), score, beat, score.notes.back().onset, {0, score.length},
                   score.notes.front().onset);
}

TEST(DrawJoin, by_the_bar_with_an_upbeat) {
  const auto tune = common_metre_tune();
  EXPECT_EQ(drawn("bar", tune), "│1━━━2━━━3━━━▸4───│1  3 beats; the metre runs on");
  EXPECT_EQ(drawn("bar+1", tune),
            "│1━━━2━━━3━━━4╌╌╌│1╌╌╌2╌╌╌3╌╌╌▸4───│1  7 beats; the metre runs on");
}

TEST(DrawJoin, hold_and_lift_with_an_upbeat) {
  const auto tune = common_metre_tune();
  EXPECT_EQ(drawn("3+2", tune),
            "│1━━━2━━━3━━━4···│1···▸4───│1  5 beats; next bar line 2 late of the running metre");
  EXPECT_EQ(drawn("2+1", tune), "│1━━━2━━━3···▸4───│1  3 beats; the metre runs on");
  EXPECT_EQ(drawn("1+1", tune),
            "│1━━━2···▸4───│1  2 beats; next bar line 1 early of the running metre");
}

TEST(DrawJoin, without_an_upbeat) {
  EXPECT_EQ(drawn("bar", long_tune()), "3━━━4━━━│▸1  2 beats; the metre runs on");
  EXPECT_EQ(drawn("4+2", long_tune()), "3━━━4━━━│1━━━2━━━3···4···│▸1  6 beats; the metre runs on");
}

TEST(DrawJoin, parts_of_beats) {
  EXPECT_EQ(drawn("1.5+0.5", long_tune()), "3━━━4━··│▸1  2 beats; the metre runs on");
}

TEST(DrawJoin, compound_time) {
  const Tick quaver = kQ / 2;
  const auto tune = TuneMaker({6, 8})
                        .upbeat(3 * quaver)
                        .full_bars(1)
                        .bar(3 * quaver)
                        .notes({3 * quaver, 3 * quaver, 3 * quaver, 3 * quaver})
                        .make();
  EXPECT_EQ(drawn("bar", tune, BeatUnit::dotted_quarter),
            "│1━━━▸2───│1  1 beat; the metre runs on");
}

TEST(DrawJoin, counts_of_two_digits_keep_the_columns) {
  const Tick quaver = kQ / 2;
  const auto tune = TuneMaker({12, 8}).full_bars(1).notes({9 * quaver, 3 * quaver}).make();
  EXPECT_EQ(drawn("bar", tune, BeatUnit::eighth), "10━━11━━12━━│▸1  3 beats; the metre runs on");
}

}  // namespace
}  // namespace loftbeat::plan
