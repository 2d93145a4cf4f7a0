#include <cmath>
#include <set>

#include "stage.h"

namespace loftbeat::simulate {
namespace {

constexpr std::uint64_t kSeeds = 60;

TEST(ModelPlayers, PlayEveryRouteThatTheyPlan) {
  for (std::uint64_t seed = 1; seed <= kSeeds; ++seed) {
    const ModelCase model = model_player(seed);
    const auto taken = play(model);
    ASSERT_TRUE(taken.ok()) << seed << ": " << to_string(taken.error());
    EXPECT_EQ(taken->performance.truth.passes.size(), taken->route.passes.size());
    EXPECT_TRUE(taken->performance.truth.missed.empty());
    EXPECT_TRUE(taken->performance.truth.faults.empty());
  }
}

TEST(ModelPlayers, CoverAllMetresJoinsAndBreaths) {
  std::set<std::pair<int, int>> metres;
  std::set<std::pair<plan::JoinKind, int>> joins;
  std::set<BreathKind> breaths;
  int upbeats = 0;
  int broadened = 0;
  int fermatas = 0;
  double slowest = 300;
  double quickest = 0;
  for (std::uint64_t seed = 1; seed <= 200; ++seed) {
    const ModelCase model = model_player(seed);
    metres.insert({model.score.bars[0].beats, model.score.bars[0].beat_type});
    joins.insert({model.plan.join->kind, model.plan.join->extra_bars});
    breaths.insert(model.player.phrase.breath);
    upbeats += model.score.bars[0].pickup;
    broadened += !model.plan.verse_plans.empty();
    fermatas += model.plan.fermata.kind == plan::FermataKind::hold;
    slowest = std::min(slowest, model.plan.tempo_bpm);
    quickest = std::max(quickest, model.plan.tempo_bpm);
  }
  EXPECT_EQ(metres.size(), 4u);
  EXPECT_EQ(joins.size(), 3u);
  EXPECT_EQ(breaths.size(), 2u);
  EXPECT_GT(upbeats, 60);
  EXPECT_GT(broadened, 60);
  EXPECT_GT(fermatas, 20);
  EXPECT_LE(slowest, 45);
  EXPECT_GE(quickest, 115);
}

// A good player's joins are in time by the measure's own rule: within the larger of 60 ms and 5
// percent of the span.
TEST(ModelPlayers, JoinInTime) {
  for (std::uint64_t seed = 1; seed <= kSeeds; ++seed) {
    const auto taken = play(model_player(seed));
    ASSERT_TRUE(taken.ok());
    for (const TrueJoin& join : taken->performance.truth.joins) {
      ASSERT_TRUE(join.planned_span_beats.has_value());
      const double late_s = (join.span_beats - *join.planned_span_beats) * join.beat_s;
      EXPECT_LE(std::fabs(late_s), std::max(0.06, 0.05 * join.span_beats * join.beat_s))
          << "seed " << seed;
      EXPECT_GT(join.silence_s, 0.05) << "seed " << seed;
    }
  }
}

TEST(ModelPlayers, EachFaultIsPlantedOnceAndTold) {
  for (const FaultKind kind : model_faults()) {
    for (std::uint64_t seed = 1; seed <= 10; ++seed) {
      const auto taken = play(model_player_with(kind, seed));
      ASSERT_TRUE(taken.ok());
      ASSERT_EQ(taken->performance.truth.faults.size(), 1u) << to_string(kind);
      EXPECT_EQ(taken->performance.truth.faults[0].kind, kind);
    }
  }
}

TEST(RoughPlayers, WearEveryTextureAndRestartOnce) {
  std::set<plan::Texture> seen;
  for (std::uint64_t seed = 1; seed <= 40; ++seed) {
    const auto taken = play(rough_player(seed));
    ASSERT_TRUE(taken.ok());
    std::size_t restarts = 0;
    for (const TruePass& pass : taken->performance.truth.passes) {
      seen.insert(pass.textures.begin(), pass.textures.end());
      restarts += pass.restarts.size();
    }
    EXPECT_EQ(restarts, 1u) << "seed " << seed;
  }
  EXPECT_EQ(seen.size(), 6u);
}

}  // namespace
}  // namespace loftbeat::simulate
