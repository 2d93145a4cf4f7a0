// How well simulated takes are followed, against the simulator's truth. The simulator is ours, so
// these are promises kept, not outside evidence; that is in tests/reference/follow.

#include <gtest/gtest.h>

#include <cstdlib>
#include <iostream>

#include "judge.h"
#include "take/hygiene.h"

namespace loftbeat::test {
namespace {

// Under sanitizers fewer players are heard.
int players(int all) { return std::getenv("LOFTBEAT_QUICK") != nullptr ? all / 10 : all; }

TEST(Accuracy, RoughPlayersAreFollowed) {
  Judgement all;
  int right_labels = 0;
  const int count = players(100);
  for (int seed = 0; seed < count; ++seed) {
    const Judgement one = judge(simulate::rough_player(static_cast<std::uint64_t>(seed)));
    EXPECT_TRUE(one.fits) << "seed " << seed << ": " << one.remarks;
    if (one.labels_right) ++right_labels;
    all.add(one);
  }
  std::cout << "labels right in " << right_labels << " of " << count << "; beats within 5 ms "
            << 100.0 * all.beats_right / all.beats << " % of " << all.beats
            << "; silences within 20 ms " << all.joins_right << " of " << all.joins << "; note F1 "
            << all.f1() << "; performed against intended beat "
            << all.beat_error_against_intent_ms / all.beats << " ms on average\n";
  EXPECT_EQ(right_labels, count);
  EXPECT_GE(all.beats_right, 0.995 * all.beats);
  EXPECT_EQ(all.joins_right, all.joins);
}

TEST(Accuracy, GoodPlayersAreFollowedWithoutFault) {
  Judgement all;
  const int count = players(100);
  for (int seed = 0; seed < count; ++seed) {
    const Judgement one = judge(simulate::model_player(static_cast<std::uint64_t>(seed)));
    EXPECT_TRUE(one.labels_right) << "seed " << seed << ": " << one.remarks;
    EXPECT_EQ(one.joins_right, one.joins) << "seed " << seed << ": " << one.remarks;
    all.add(one);
  }
  EXPECT_GE(all.beats_right, 0.999 * all.beats);
  EXPECT_GE(all.f1(), 0.999);
}

TEST(Accuracy, FollowingTwiceGivesTheSame) {
  const simulate::ModelCase model = simulate::rough_player(3);
  const Result<simulate::ModelTake> played = simulate::play(model);
  ASSERT_TRUE(played.ok());
  const take::CleanTake clean = take::clean(played->performance.take);
  const auto once = follow::align(model.score, played->route, 80, clean);
  const auto twice = follow::align(model.score, played->route, 80, clean);
  ASSERT_TRUE(once.ok() && twice.ok());
  ASSERT_EQ(once->notes.size(), twice->notes.size());
  for (std::size_t n = 0; n < once->notes.size(); ++n) {
    EXPECT_EQ(once->notes[n].score, twice->notes[n].score);
    EXPECT_EQ(once->notes[n].pass, twice->notes[n].pass);
    EXPECT_EQ(once->notes[n].kind, twice->notes[n].kind);
  }
}

}  // namespace
}  // namespace loftbeat::test
