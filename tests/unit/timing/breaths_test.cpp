#include "timing/breaths.h"

#include <gtest/gtest.h>

#include "scene.h"

namespace loftbeat::timing {
namespace {

// Three verses with `extra` seconds (= beats) added at the second phrase's begin.
Timing three_verses(const std::vector<double>& extra, const TuneShape& shape = {4, 8, 0, 4}) {
  Scene made = scene(shape);
  for (std::size_t v = 0; v < extra.size(); ++v)
    add_pass(made, std::to_string(v + 1), [&](int chord) {
      return 40 * static_cast<double>(v) + chord + (chord >= 16 ? extra[v] : 0.0);
    });
  return made.measure();
}

TEST(Breath, IsAlikeInTheOtherVerses) {
  const Timing timing = three_verses({0.3, 0.35, 0.3});
  for (const PassMeasures& pass : timing.passes) {
    EXPECT_TRUE(pass.hesitations.empty());
    ASSERT_EQ(pass.breaths.size(), 1u);
  }
  EXPECT_NEAR(timing.passes[1].breaths[0].extra_beats, 0.35, 1e-6);
}

TEST(Breath, UnlikeTheOthersIsAHesitation) {
  const Timing timing = three_verses({0.3, 0.9, 0.3});
  ASSERT_EQ(timing.passes[1].hesitations.size(), 1u);
  EXPECT_NEAR(timing.passes[1].hesitations[0].extra_beats, 0.6, 1e-6);
  EXPECT_EQ(timing.passes[1].hesitations[0].bar, "5");
  EXPECT_TRUE(timing.passes[0].hesitations.empty());
}

TEST(Breath, LastsHalfABeatAtMost) {
  const Timing timing = three_verses({0.7, 0.7, 0.7});
  for (const PassMeasures& pass : timing.passes) {
    ASSERT_EQ(pass.hesitations.size(), 1u);
    EXPECT_NEAR(pass.hesitations[0].extra_beats, 0.7, 1e-6);
  }
  EXPECT_TRUE(three_verses({0.5, 0.5, 0.5}).passes[0].hesitations.empty());  // inclusive
}

TEST(Breath, OfASingleVerseNeedsNoLike) {
  const Timing timing = three_verses({0.45});
  EXPECT_TRUE(timing.passes[0].hesitations.empty());
  EXPECT_EQ(timing.passes[0].breaths.size(), 1u);
}

TEST(Breath, IsTrustedWhereNoPhrasesAreKnownButMostVersesHaveIt) {
  const TuneShape unknown_phrases{4, 8, 0, 0};
  const Timing shared = three_verses({0.4, 0.4, 0.4}, unknown_phrases);
  for (const PassMeasures& pass : shared.passes) EXPECT_TRUE(pass.hesitations.empty());
  const Timing alone = three_verses({0, 0.4, 0}, unknown_phrases);
  EXPECT_EQ(alone.passes[1].hesitations.size(), 1u);
}

TEST(Hesitation, IsFoundInsideALine) {
  Scene made = scene({4, 8, 0, 4});
  add_pass(made, "1", [](int chord) { return chord + (chord >= 22 ? 0.6 : 0.0); });
  const PassMeasures pass = made.measure().passes[0];
  ASSERT_EQ(pass.hesitations.size(), 1u);
  EXPECT_EQ(pass.hesitations[0].at, 22 * kTicksPerQuarter);
  EXPECT_EQ(pass.hesitations[0].bar, "6");
  EXPECT_DOUBLE_EQ(pass.hesitations[0].beat, 3);
  EXPECT_NEAR(pass.hesitations[0].extra_beats, 0.6, 1e-6);
  EXPECT_NEAR(pass.hesitations[0].extra_ms, 600, 1e-3);
}

TEST(Hesitation, IsNotWhatTheToleranceLetsPass) {
  Scene made = scene({4, 8, 0, 4});
  add_pass(made, "1", [](int chord) { return chord + (chord >= 22 ? 0.25 : 0.0); });
  EXPECT_TRUE(made.measure().passes[0].hesitations.empty());
}

TEST(Hesitation, IsNotTheTimeOfACorrectionOrARestart) {
  Scene made = scene({4, 8, 0, 4});
  add_pass(made, "1",
           [](int chord) { return chord + (chord >= 6 ? 1.2 : 0.0) + (chord >= 24 ? 5.0 : 0.0); });
  auto& pass = made.alignment.passes[0];
  pass.corrections.push_back({6 * kTicksPerQuarter, 60, 62, Instant{}, Nanoseconds{0}});
  pass.restarts.push_back(
      {27 * kTicksPerQuarter, 24 * kTicksPerQuarter, Instant{}, Nanoseconds{0}});
  EXPECT_TRUE(made.measure().passes[0].hesitations.empty());
}

TEST(Fermata, IsToldAsPlayed) {
  Scene made = scene({4, 8, 0, 4});
  made.score.fermatas.push_back({15 * kTicksPerQuarter});
  made.route.holds.push_back(
      {15 * kTicksPerQuarter, 16 * kTicksPerQuarter, plan::FermataKind::hold, 2});
  add_pass(made, "1", [](int chord) { return chord + (chord >= 16 ? 2.1 : 0.0); });
  const PassMeasures pass = made.measure().passes[0];
  ASSERT_EQ(pass.fermatas.size(), 1u);
  EXPECT_NEAR(*pass.fermatas[0].extra_beats, 2.1, 1e-6);
  EXPECT_DOUBLE_EQ(pass.fermatas[0].planned_extra_beats, 2);
}

}  // namespace
}  // namespace loftbeat::timing
