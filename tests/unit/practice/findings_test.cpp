#include "practice/findings.h"

#include <set>

#include <gtest/gtest.h>

#include "practice/sentences.h"
#include "practice/words.h"

namespace loftbeat::practice {
namespace {

// A review of `verses` measured verses at 72 beats a minute with nothing wrong.
Review good_review(int verses) {
  Review review;
  review.plan.tempo_bpm = 72;
  review.score.bars.push_back({0, 4 * kTicksPerQuarter, "1", 4, 4, false});
  review.score.length = 4 * kTicksPerQuarter;
  for (int v = 0; v < verses; ++v) {
    follow::AlignedPass pass;
    pass.label = std::to_string(v + 1);
    review.alignment.passes.push_back(pass);
    timing::PassMeasures measured;
    measured.pass = v;
    measured.tempo_bpm = 72.0;
    measured.tempo_offset_percent = 0.4;
    measured.tempo_uncertainty_percent = 0.2;
    review.timing.passes.push_back(measured);
  }
  return review;
}

TEST(SurelyBeyond, TakesTheUncertaintyOff) {
  EXPECT_FALSE(surely_beyond(4.5, 4, 0.4));
  EXPECT_TRUE(surely_beyond(-4.9, 4, 0.4));
}

TEST(Findings, GoodPlayingIsPraised) {
  Review review = good_review(3);
  EXPECT_TRUE(find_faults(review).empty());
  const auto words = advice(review);
  ASSERT_FALSE(words.empty());
  EXPECT_NE(words[0].find("within 0.4 percent"), std::string::npos) << words[0];
}

TEST(Findings, SeverityIsTheFigureOverItsTolerance) {
  Review review = good_review(3);
  review.timing.passes[1].tempo_offset_percent = 8.0;
  review.timing.passes[1].tempo_bpm = 72 * 1.08;
  const auto found = find_faults(review);
  ASSERT_EQ(found.size(), 1u);
  EXPECT_EQ(found[0].kind, FindingKind::tempo_off);
  EXPECT_DOUBLE_EQ(found[0].severity, 2);
  EXPECT_EQ(found[0].sentence.rfind("Verse 2 went 78 beats a minute where 72 are set", 0), 0u)
      << found[0].sentence;
}

TEST(Findings, SamePlaceInMostVersesComesFirst) {
  Review review = good_review(3);
  review.timing.passes[0].tempo_offset_percent = 40.0;
  for (std::size_t v : {std::size_t{1}, std::size_t{2}})
    review.timing.passes[v].hesitations.push_back(
        {0, "7", 1, 0.3 + 0.1 * static_cast<double>(v), 0});
  const auto found = find_faults(review);
  ASSERT_EQ(found.size(), 2u);
  EXPECT_EQ(found[0].kind, FindingKind::hesitation);
  EXPECT_EQ(found[0].verses_affected, 2);
  EXPECT_DOUBLE_EQ(found[0].figure, 0.5);  // the worst stands for all
  EXPECT_NE(found[0].sentence.find("bar 7, in 2 passes"), std::string::npos);
}

TEST(Findings, JoinsAreToldByTheirVerdict) {
  Review review = good_review(2);
  timing::JoinMeasures join;
  join.after = 1;
  join.span_beats = 6.0;
  join.planned_span_beats = 5.0;
  join.onset_s = 6;
  join.tolerance_ms = 250.0;
  join.verdict = timing::JoinVerdict::miscounted;
  review.timing.joins.push_back(join);
  const auto found = find_faults(review);
  ASSERT_EQ(found.size(), 1u);
  EXPECT_EQ(found[0].kind, FindingKind::join_miscounted);
  EXPECT_NE(found[0].sentence.find("was 1 beat too long"), std::string::npos) << found[0].sentence;
}

TEST(Findings, WhatCannotBeToldIsNotHeldAgainstThePlayer) {
  Review review = good_review(2);
  timing::JoinMeasures join;
  join.after = 1;
  join.span_beats = 5.2;
  join.verdict = timing::JoinVerdict::cannot_tell;
  review.timing.joins.push_back(join);
  EXPECT_TRUE(find_faults(review).empty());
}

TEST(Findings, SlowingIsTheOnlyNameOfASlowingPlayOver) {
  Review review = good_review(2);
  review.alignment.passes[0].kind = plan::PassKind::play_over;
  review.alignment.passes[0].label = "play-over";
  review.timing.passes[0].tempo_offset_percent = -7.0;
  review.timing.passes[0].trend_percent = -12.0;
  timing::PlayOverMeasures play_over;
  play_over.verse = 1;
  play_over.slowing_percent = 12.0;
  play_over.slowing_uncertainty_percent = 1.0;
  play_over.tempo_difference_percent = -7.0;
  review.timing.play_over = play_over;
  const auto found = find_faults(review);
  ASSERT_EQ(found.size(), 1u);
  EXPECT_EQ(found[0].kind, FindingKind::play_over_slowing);
}

TEST(Findings, LateFeetThatLeaveLateAreNoRaggedRelease) {
  Review review = good_review(2);
  review.timing.passes[0].pedal_lag = timing::LagMs{80, 5, 30};
  review.timing.passes[0].feet = timing::FeetSource::pedal_channel;
  review.timing.passes[0].releases.together_ms = 130.0;
  const auto found = find_faults(review);
  ASSERT_EQ(found.size(), 1u);
  EXPECT_EQ(found[0].kind, FindingKind::feet_late);
  EXPECT_NE(found[0].sentence.find("the feet came 80 ms behind"), std::string::npos);
}

TEST(Findings, TheBassIsNotCalledFeetWhereNoPedalIsSeen) {
  Review review = good_review(1);
  review.timing.passes[0].pedal_lag = timing::LagMs{80, 5, 30};
  review.timing.passes[0].feet = timing::FeetSource::bass_voice;
  EXPECT_NE(find_faults(review)[0].sentence.find("the bass came"), std::string::npos);
}

TEST(Findings, ThreeSmearsInTwentyNotesAreAHabitAndTwoAreNot) {
  Review review = good_review(1);
  timing::Releases& releases = review.timing.passes[0].releases;
  releases.notes = 20;
  releases.smear_ms = 100.0;
  releases.smears = 2;
  EXPECT_TRUE(find_faults(review).empty());
  releases.smears = 3;
  ASSERT_EQ(find_faults(review).size(), 1u);
  EXPECT_DOUBLE_EQ(find_faults(review)[0].severity, 2);
}

TEST(Findings, WrongNotesCountWhereTheyComeBack) {
  Review review = good_review(3);
  for (int v = 0; v < 3; ++v) {
    review.take.notes.push_back({});
    review.alignment.notes.push_back({-1, v, follow::MatchKind::extra});
  }
  const auto found = find_faults(review);
  ASSERT_EQ(found.size(), 1u);
  EXPECT_EQ(found[0].kind, FindingKind::wrong_notes);
  EXPECT_EQ(found[0].verses_affected, 3);
  review.alignment.notes[1].kind = review.alignment.notes[2].kind = follow::MatchKind::other;
  EXPECT_TRUE(find_faults(review).empty());
}

TEST(Advice, IsFiveSentencesAtMost) {
  Review review = good_review(1);
  for (int bar = 1; bar <= 9; ++bar)
    review.timing.passes[0].hesitations.push_back({0, std::to_string(bar), 1, 0.1 * bar + 0.3, 0});
  review.findings = find_faults(review);
  EXPECT_EQ(review.findings.size(), 9u);
  const auto words = advice(review);
  ASSERT_EQ(words.size(), kMostAdvice);
  EXPECT_NE(words[0].find("bar 9"), std::string::npos);  // worst first
}

TEST(Sentences, EveryKindHasOneOfItsOwn) {
  Review review = good_review(2);
  review.alignment.passes[0].textures = {plan::Texture::unison};
  review.alignment.passes[0].route_pass = 0;
  review.route.passes.push_back(
      {"1", plan::PassKind::verse, {}, {plan::Texture::no_pedal}, 0, false, {}, 100});
  timing::JoinMeasures join;
  join.after = 1;
  review.timing.joins.push_back(join);
  review.timing.play_over = timing::PlayOverMeasures{};
  std::set<std::string> told;
  const int last = static_cast<int>(FindingKind::texture);
  for (int kind = 0; kind <= last; ++kind) {
    Finding finding;
    finding.kind = static_cast<FindingKind>(kind);
    finding.pass = 0;
    finding.join = 0;
    finding.bar = "3";
    finding.figure =
        finding.kind == FindingKind::feet_early || finding.kind == FindingKind::dragging ? -50 : 50;
    const std::string words = sentence(review, finding);
    EXPECT_GT(words.size(), 30u);
    EXPECT_EQ(words.back(), '.');
    EXPECT_TRUE(told.insert(words).second) << words;
  }
}

TEST(Words, BeatsAreCountedAsPlayersDo) {
  EXPECT_EQ(beats_text(1), "1 beat");
  EXPECT_EQ(beats_text(-2), "2 beats");
  EXPECT_EQ(beats_text(0.42), "0.42 of a beat");
  EXPECT_EQ(beats_text(1.3), "1.3 beats");
  EXPECT_EQ(figure_text(3.14), "3.1");
  EXPECT_EQ(figure_text(12.6), "13");
}

}  // namespace
}  // namespace loftbeat::practice
