#include <gtest/gtest.h>

#include "plan/read.h"

namespace loftbeat::plan {
namespace {

Plan plan_of(std::string_view text, const std::string& path = "hymns/a.plan.toml") {
  const auto plan = parse_plan(text, path);
  if (!plan) {
    ADD_FAILURE() << to_string(plan.error());
    return {};
  }
  return *plan;
}

TEST(PlanFile, the_least_plan_takes_all_defaults) {
  const Plan plan = plan_of("score = \"a.musicxml\"\n");
  EXPECT_EQ(plan.score_path, "hymns/a.musicxml");
  EXPECT_EQ(plan.file, "hymns/a.plan.toml");
  EXPECT_EQ(plan.title, "");
  EXPECT_EQ(plan.tempo_bpm, 0);
  EXPECT_EQ(plan.beat, BeatUnit::quarter);
  EXPECT_FALSE(plan.verses);
  EXPECT_EQ(plan.play_over.kind, PlayOverKind::automatic);
  EXPECT_EQ(plan.textures, std::vector<Texture>{Texture::as_written});
  EXPECT_FALSE(plan.join || plan.join_after_play_over);
  EXPECT_EQ(plan.fermata.kind, FermataKind::sign_only);
  EXPECT_TRUE(plan.fermatas.empty() && plan.phrase_starts.empty() && plan.verse_plans.empty());
  EXPECT_FALSE(plan.amen);
  EXPECT_EQ(plan.tolerances.join_ms, 60);
}

TEST(PlanFile, every_key_of_the_head) {
  const Plan plan = plan_of(
      "title = \"Evening\"\n"
      "score = \"a.musicxml\"\n"
      "tempo = 72.5\n"
      "beat = \"half\"\n"
      "verses = 5\n"
      "play-over = [1, 4]\n"
      "textures = [\"fuller\", \"no-pedal\"]\n"
      "join = \"3+1\"\n"
      "join-after-play-over = \"bar+1\"\n"
      "fermata = \"hold 1.5\"\n"
      "phrase-starts = [\"2:4\", 5, \"X1:2.5\"]\n"
      "refrain = [3, 4]\n"
      "amen = true\n");
  EXPECT_EQ(plan.title, "Evening");
  EXPECT_EQ(plan.tempo_bpm, 72.5);
  EXPECT_EQ(plan.beat, BeatUnit::half);
  EXPECT_EQ(plan.verses, 5);
  EXPECT_EQ(plan.play_over, (PlayOver{PlayOverKind::phrases, {1, 4}}));
  EXPECT_EQ(plan.textures, (std::vector{Texture::fuller, Texture::no_pedal}));
  EXPECT_EQ(plan.join, (Join{JoinKind::hold_and_lift, 3, 1, 0}));
  EXPECT_EQ(plan.join_after_play_over, (Join{JoinKind::by_the_bar, 0, 0, 1}));
  EXPECT_EQ(plan.fermata, (FermataRule{FermataKind::hold, 1.5}));
  ASSERT_EQ(plan.phrase_starts.size(), 3U);
  EXPECT_EQ(plan.phrase_starts[0].bar, "2");
  EXPECT_EQ(plan.phrase_starts[0].beat, 4);
  EXPECT_EQ(plan.phrase_starts[1].bar, "5");
  EXPECT_EQ(plan.phrase_starts[1].beat, 1);
  EXPECT_EQ(plan.phrase_starts[2].bar, "X1");
  EXPECT_EQ(plan.phrase_starts[2].beat, 2.5);
  EXPECT_EQ(plan.phrase_starts[2].line, 11);
  EXPECT_EQ(plan.refrain_phrases, (std::vector{3, 4}));
  EXPECT_TRUE(plan.amen);
  EXPECT_EQ(plan.lines.play_over, 6);
  EXPECT_EQ(plan.lines.join, 8);
  EXPECT_EQ(plan.lines.join_after_play_over, 9);
  EXPECT_EQ(plan.lines.refrain, 12);
}

TEST(PlanFile, joins_as_tables) {
  const Plan plan = plan_of(
      "score = \"a\"\njoin = { hold = 3, lift = 0.5 }\n"
      "join-after-play-over = { extra-bars = 2 }\n");
  EXPECT_EQ(plan.join, (Join{JoinKind::hold_and_lift, 3, 0.5, 0}));
  EXPECT_EQ(plan.join_after_play_over, (Join{JoinKind::by_the_bar, 0, 0, 2}));
}

TEST(PlanFile, every_key_of_a_pass) {
  const Plan plan = plan_of(
      "score = \"a\"\n"
      "[play-over-pass]\n"
      "textures = [\"no-pedal\"]\n"
      "transpose = -2\n"
      "broaden = { from = \"7\", percent = 90 }\n"
      "[verse.3]\n"
      "textures = [\"unison\"]\n"
      "unaccompanied = true\n"
      "transpose = 1\n"
      "phrases = [1, 2, 4, 4]\n"
      "join-after = \"4+2\"\n"
      "broaden = { from = \"15:3\" }\n");
  EXPECT_EQ(plan.play_over_plan.textures, std::vector{Texture::no_pedal});
  EXPECT_EQ(plan.play_over_plan.transpose_semitones, -2);
  EXPECT_EQ(plan.play_over_plan.broadening->from.bar, "7");
  EXPECT_EQ(plan.play_over_plan.broadening->percent, 90);
  EXPECT_EQ(plan.play_over_plan.line, 2);
  ASSERT_EQ(plan.verse_plans.size(), 1U);
  const PassPlan& verse = plan.verse_plans.at(3);
  EXPECT_EQ(verse.textures, std::vector{Texture::unison});
  EXPECT_TRUE(verse.unaccompanied);
  EXPECT_EQ(verse.transpose_semitones, 1);
  EXPECT_EQ(verse.phrases, (std::vector{1, 2, 4, 4}));
  EXPECT_EQ(verse.join_after, (Join{JoinKind::hold_and_lift, 4, 2, 0}));
  EXPECT_EQ(verse.broadening->from.beat, 3);
  EXPECT_EQ(verse.broadening->from.line, 12);
  EXPECT_EQ(verse.broadening->percent, 85);
  EXPECT_EQ(verse.line, 6);
}

TEST(PlanFile, fermatas_interludes_and_tolerances) {
  const Plan plan = plan_of(
      "score = \"a\"\n"
      "[[fermata-at]]\nplace = \"4:3\"\nrule = \"hold 2\"\n"
      "[[fermata-at]]\nplace = 8\nrule = \"free\"\n"
      "[[interlude]]\nafter-verse = 2\nbeats = 16\n"
      "[[interlude]]\nafter-verse = 3\n"
      "[tolerances]\njoin-ms = 80\njoin-percent = 6\ntempo-percent = 7\ntrend-percent = 8\n"
      "steadiness-percent = 9\nhesitation-beats = 0.5\npedal-lag-ms = 41\nsmear-ms = 42\n");
  ASSERT_EQ(plan.fermatas.size(), 2U);
  EXPECT_EQ(plan.fermatas[0].first.bar, "4");
  EXPECT_EQ(plan.fermatas[0].second, (FermataRule{FermataKind::hold, 2}));
  EXPECT_EQ(plan.fermatas[1].first.bar, "8");
  EXPECT_EQ(plan.fermatas[1].second.kind, FermataKind::free);
  ASSERT_EQ(plan.interludes.size(), 2U);
  EXPECT_EQ(plan.interludes[0].after_verse, 2);
  EXPECT_EQ(plan.interludes[0].beats, 16);
  EXPECT_EQ(plan.interludes[1].beats, 0);
  const Tolerances& t = plan.tolerances;
  EXPECT_EQ(t.join_ms, 80);
  EXPECT_EQ(t.join_percent, 6);
  EXPECT_EQ(t.tempo_percent, 7);
  EXPECT_EQ(t.trend_percent, 8);
  EXPECT_EQ(t.steadiness_percent, 9);
  EXPECT_EQ(t.hesitation_beats, 0.5);
  EXPECT_EQ(t.pedal_lag_ms, 41);
  EXPECT_EQ(t.smear_ms, 42);
}

TEST(PlanFile, verses_may_be_left_to_the_take) {
  EXPECT_FALSE(plan_of("score = \"a\"\nverses = \"auto\"\n").verses);
}

TEST(PlanFile, the_score_is_seen_from_the_plans_folder) {
  EXPECT_EQ(plan_of("score = \"../t/a.mxl\"\n", "p/q/x.plan.toml").score_path, "p/t/a.mxl");
  EXPECT_EQ(plan_of("score = \"/t/a.mxl\"\n", "p/q/x.plan.toml").score_path, "/t/a.mxl");
  EXPECT_EQ(plan_of("score = \"a.mxl\"\n", "x.plan.toml").score_path, "a.mxl");
}

}  // namespace
}  // namespace loftbeat::plan
