// Where things stand in the drawings: values to geometry, without any drawing.

#include <cmath>

#include <gtest/gtest.h>

#include "report/join_strip.h"
#include "report/ribbon.h"
#include "report/tempo_rows.h"
#include "report/trouble.h"
#include "sample_review.h"

namespace loftbeat::report {
namespace {

using loftbeat::testing::sample_review;

TEST(RoundedUp, IsTheNextEvenScale) {
  struct Case {
    double figure, least, expected;
  };
  for (const Case& c : {Case{0, 250, 250}, Case{251, 250, 500}, Case{1001, 250, 2000},
                        Case{2400, 250, 2500}, Case{5001, 250, 10000}, Case{50, 50, 50}}) {
    EXPECT_NEAR(rounded_up(c.figure, c.least), c.expected, 1e-6) << c.figure;
  }
}

class RibbonOfOnePass : public ::testing::Test {
 protected:
  RibbonOfOnePass() : review(sample_review()) {
    timing::PassMeasures& pass = review.timing.passes[1];
    pass.beats.clear();
    for (const double drift : {0.0, 100.0, -200.0, 400.0}) {
      timing::Beat beat;
      beat.tick = static_cast<Tick>(pass.beats.size()) * 8 * kTicksPerQuarter;
      beat.struck = true;
      beat.drift_ms = drift;
      pass.beats.push_back(beat);
    }
  }
  [[nodiscard]] Ribbon lay_out(RibbonScale scale) const {
    return lay_out_ribbon(review, review.timing.passes[1], scale, {420, 10, 10, 40});
  }
  practice::Review review;
};

TEST_F(RibbonOfOnePass, PlacesBeatsByScoreTimeAndDrift) {
  const Ribbon ribbon = lay_out({400, 100, 50});
  ASSERT_EQ(ribbon.runs.size(), 4u);                   // eight beats apart: nothing is joined
  const std::vector<double> xs = {10, 110, 210, 310};  // a score of 32 quarters over 400
  const std::vector<double> below = {0, 10, -20, 40};  // 400 ms over 40
  for (std::size_t i = 0; i < 4; ++i) {
    EXPECT_NEAR(ribbon.runs[i][0].x, xs[i], 1e-9);
    EXPECT_NEAR(ribbon.runs[i][0].y - ribbon.zero, below[i], 1e-9);
  }
}

TEST_F(RibbonOfOnePass, StaysInsideItsScale) {
  const Ribbon ribbon = lay_out({100, 50, 50});
  for (const RibbonRun& run : ribbon.runs) {
    for (const RibbonBeat& beat : run) {
      EXPECT_GE(beat.y, ribbon.top);
      EXPECT_LE(beat.y, ribbon.bottom);
    }
  }
}

TEST_F(RibbonOfOnePass, LeavesOutWhatIsNotKnown) {
  review.timing.passes[1].beats[1].drift_ms = Measured<double>::unknown("not struck");
  review.timing.passes[1].beats[2].drift_ms = std::nan("");
  std::size_t shown = 0;
  for (const RibbonRun& run : lay_out({400, 100, 50}).runs) shown += run.size();
  EXPECT_EQ(shown, 2u);
}

TEST(Ribbon, WhatWasLeftOutIsNotDrawn) {
  practice::Review review = sample_review();
  review.alignment.passes[1].omissions.push_back(
      {{8 * kTicksPerQuarter, 16 * kTicksPerQuarter}, Instant{}});
  const Ribbon ribbon =
      lay_out_ribbon(review, review.timing.passes[1], ribbon_scale(review), RibbonFrame{});
  ASSERT_EQ(ribbon.runs.size(), 2u);
  EXPECT_EQ(ribbon.runs[0].size(), 8u);
}

TEST(Ribbon, ScalesAreNotSetByWhatWasNotPlayed) {
  practice::Review review = sample_review();
  const RibbonScale before = ribbon_scale(review);
  timing::Beat beat;
  beat.drift_ms = 1e6;  // interpolated
  review.timing.passes[1].beats.push_back(beat);
  review.timing.passes[1].beats[0].pulse_ms = 2e5;
  EXPECT_EQ(ribbon_scale(review).drift_ms, before.drift_ms);
  EXPECT_LE(ribbon_scale(review).pulse_ms, 250);
}

TEST(Ribbon, OneRunForEachUnbrokenStretch) {
  const practice::Review review = sample_review();
  const RibbonScale scale = ribbon_scale(review);
  // The play-over has the first and the last phrase; a verse is whole.
  EXPECT_EQ(lay_out_ribbon(review, review.timing.passes[0], scale, {}).runs.size(), 2u);
  EXPECT_EQ(lay_out_ribbon(review, review.timing.passes[1], scale, {}).runs.size(), 1u);
}

TEST(Ribbon, BarNumbersNeverTouch) {
  const practice::Review review = sample_review({32, 1});
  const Ribbon ribbon =
      lay_out_ribbon(review, review.timing.passes[1], ribbon_scale(review), {360, 48, 8, 34});
  double last = -100;
  for (const RibbonLabel& bar : ribbon.bars) {
    if (bar.text.empty()) continue;
    EXPECT_GE(bar.x - last, 20);
    last = bar.x;
  }
}

TEST(JoinStrip, PlacesChordSilenceAndEntryInBeats) {
  practice::Review review = sample_review();
  timing::JoinMeasures join = review.timing.joins[1];
  join.hold_beats = 3.0;
  join.span_beats = 6.0;
  join.planned_hold_beats = 3.0;
  join.planned_span_beats = 5.0;
  join.tolerance_ms = 600;
  join.last_onset_s = 10;
  join.onset_s = 16;                                                 // a beat is a second
  const JoinRow row = lay_out_join(review, join, 8, {100, 10, 10});  // a beat is 10 wide
  EXPECT_NEAR(row.played_hold->end, 40, 1e-9);
  EXPECT_NEAR(*row.played_entry, 70, 1e-9);
  EXPECT_NEAR(*row.planned_entry, 60, 1e-9);
  EXPECT_NEAR(row.tolerance->begin, 54, 1e-9);
  EXPECT_NEAR(row.tolerance->end, 66, 1e-9);
  EXPECT_EQ(row.beat_lines.size(), 9u);
}

TEST(JoinStrip, DrawsNothingThatIsNotKnown) {
  const practice::Review review = sample_review();
  timing::JoinMeasures join;
  join.before = 0;
  join.after = 1;
  const JoinRow row = lay_out_join(review, join, 8, {});
  EXPECT_FALSE(row.played_hold || row.played_entry || row.planned_hold || row.planned_entry ||
               row.tolerance);
}

TEST(JoinStrip, AVeryLongGapIsCutOffAtTheEdge) {
  practice::Review review = sample_review();
  review.timing.joins[0].span_beats = 1e7;
  EXPECT_LE(strip_beats(review), 64);
  const JoinRow row = lay_out_join(review, review.timing.joins[0], strip_beats(review), {});
  EXPECT_LE(*row.played_entry, row.right);
  EXPECT_LE(row.beat_lines.size(), 65u);
}

TEST(TempoRows, KeepTheOrderOfTempi) {
  const practice::Review review = sample_review();
  const TempoRows view = lay_out_tempi(review, {500, 100, 100});
  ASSERT_EQ(view.rows.size(), review.timing.passes.size());
  for (std::size_t i = 0; i < view.rows.size(); ++i) {
    const bool faster = *review.timing.passes[i].tempo_bpm > review.plan.tempo_bpm;
    EXPECT_EQ(*view.rows[i].x > view.set, faster);
    EXPECT_GE(*view.rows[i].x, 100);
    EXPECT_LE(*view.rows[i].x, 400);
  }
  EXPECT_LT(view.scale.size(), 20u);
}

TEST(TempoRows, AnUnknownTempoHasNoPoint) {
  practice::Review review = sample_review();
  review.timing.passes[0].tempo_bpm = Measured<double>::unknown("too short");
  EXPECT_FALSE(lay_out_tempi(review, {}).rows[0].x.has_value());
}

TEST(Trouble, CountsEveryWrongAndMissedNoteOnce) {
  const practice::Review review = sample_review();
  int wrong = 0;
  int missed = 0;
  for (const auto& pass : count_trouble(review).passes) {
    for (const BarTrouble& bar : pass) {
      wrong += bar.wrong;
      missed += bar.missed;
    }
  }
  EXPECT_EQ(wrong, 2);  // the sample's troubled verse has two slips and a missed note
  EXPECT_EQ(missed, 1);
}

TEST(Trouble, AWrongNoteCountsInTheBarUnderWhichItFell) {
  const TroubleTable trouble = count_trouble(sample_review());
  EXPECT_EQ(trouble.passes[2][2].wrong, 1);   // quarter 6 is in bar 2
  EXPECT_EQ(trouble.passes[2][6].wrong, 1);   // quarter 21 is in bar 6
  EXPECT_EQ(trouble.passes[2][3].missed, 1);  // quarter 9 begins bar 3
}

TEST(Geometry, AnEmptyReviewIsNoAccident) {
  practice::Review review;
  review.plan.tempo_bpm = 72;
  EXPECT_NO_THROW((void)lay_out_tempi(review, {}));
  EXPECT_EQ(count_trouble(review).most, 0);
  EXPECT_GT(ribbon_scale(review).drift_ms, 0);
  EXPECT_GT(strip_beats(review), 0);
}

}  // namespace
}  // namespace loftbeat::report
