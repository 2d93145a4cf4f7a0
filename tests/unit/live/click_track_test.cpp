// The metronome's beats against a player without faults (src/simulate has its own reckoning of
// joins and tempo): each beat that he strikes is a beat of the track, at the same time.

#include "live/click_track.h"

#include <cmath>

#include <gtest/gtest.h>

#include "simulate/simulate.h"

namespace loftbeat::live {
namespace {

struct Scene {
  music::Score score;
  plan::Plan plan;
  plan::Route route;
};

Scene scene(const simulate::HymnShape& shape, const plan::Join& join, std::uint64_t seed = 1) {
  Scene made;
  made.score = simulate::invented_hymn(shape, seed);
  made.plan.tempo_bpm = 60;
  if (shape.beat_type == 8) made.plan.beat = plan::BeatUnit::dotted_quarter;
  if (shape.beat_type == 2) made.plan.beat = plan::BeatUnit::half;
  made.plan.verses = 3;
  made.plan.play_over.kind = plan::PlayOverKind::first_and_last;
  made.plan.join = join;
  made.route = plan::make_route(made.plan, made.score).value();
  return made;
}

ClickTrack track_of(const Scene& made, ClickMode mode = ClickMode::always, int bars = 1) {
  ClickOrder order;
  order.plan = &made.plan;
  order.score = &made.score;
  order.route = &made.route;
  order.tempo_bpm = 60;
  order.mode = mode;
  order.count_in_bars = bars;
  return click_track(order);
}

const plan::Join kThreeAndOne{plan::JoinKind::hold_and_lift, 3, 1, 0};

TEST(ClickTrack, BeatsAreWhereAFaultlessPlayerStrikesThem) {
  const plan::Join joins[] = {
      kThreeAndOne, {plan::JoinKind::by_the_bar, 0, 0, 0}, {plan::JoinKind::by_the_bar, 0, 0, 1}};
  int compared = 0;
  for (std::uint64_t seed = 1; seed <= 60; ++seed) {
    const Scene made = scene(simulate::invented_shape(seed), joins[seed % 3], seed);
    simulate::Player player;
    player.start_s = 0;
    const auto played = simulate::perform({made.score, made.plan, made.route}, player, seed);
    const ClickTrack track = track_of(made);
    for (const PlannedBeat& beat : track.beats) {
      if (beat.tick < 0) continue;
      const auto& onsets = played.truth.passes[static_cast<std::size_t>(beat.pass)].onsets;
      for (const simulate::TrueOnset& onset : onsets) {
        if (onset.tick != beat.tick) continue;
        EXPECT_NEAR(beat.seconds, seconds(onset.intended), 1e-6)
            << "seed " << seed << ", pass " << beat.pass << ", bar " << beat.bar;
        ++compared;
      }
    }
  }
  EXPECT_GT(compared, 4000);
}

TEST(ClickTrack, BeatsNeverComeCloserThanHalfABeat) {
  for (std::uint64_t seed = 1; seed <= 60; ++seed) {
    const Scene made = scene(simulate::invented_shape(seed), kThreeAndOne, seed);
    const ClickTrack track = track_of(made);
    for (std::size_t i = 1; i < track.beats.size(); ++i)
      EXPECT_GE(track.beats[i].seconds - track.beats[i - 1].seconds, 0.5 - 1e-9);
  }
}

// Counted by hand: 4/4 with an upbeat crotchet, one bar: 1 2 3 4 1 2 3, then the upbeat.
TEST(ClickTrack, CountsInUpToTheUpbeat) {
  simulate::HymnShape shape;
  shape.upbeat_quarters = 1;
  const ClickTrack track = track_of(scene(shape, kThreeAndOne), ClickMode::count_in);
  ASSERT_GE(track.beats.size(), 8U);
  EXPECT_DOUBLE_EQ(track.count_in_seconds, 7);
  const int counts[] = {1, 2, 3, 4, 1, 2, 3, 4};
  for (std::size_t i = 0; i < 8; ++i) {
    EXPECT_EQ(track.beats[i].beat_of_bar, counts[i]) << i;
    EXPECT_NEAR(track.beats[i].seconds, static_cast<double>(i) - 7, 1e-9);
    EXPECT_EQ(track.beats[i].clicks, i < 7);
  }
}

// Counted by hand: 6/8, beats of dotted crotchets, upbeat quaver: 1 2 1 2, and the upbeat a third
// of a beat before the next 1.
TEST(ClickTrack, CountsInUpToAnUpbeatInsideABeat) {
  simulate::HymnShape shape;
  shape.beats = 6;
  shape.beat_type = 8;
  shape.upbeat_quarters = 0.5;
  const ClickTrack track = track_of(scene(shape, kThreeAndOne), ClickMode::count_in);
  EXPECT_NEAR(track.count_in_seconds, 2 + 5.0 / 3, 1e-9);
  const auto clicks = clicks_of(track, 48000);
  ASSERT_EQ(clicks.size(), 4U);
  EXPECT_TRUE(clicks[0].accent && !clicks[1].accent && clicks[2].accent && !clicks[3].accent);
  EXPECT_EQ(clicks[3].frame, 144000);
}

TEST(ClickTrack, RestsTakeTurnsBarByBar) {
  const Scene made = scene({}, kThreeAndOne);
  const ClickTrack track = track_of(made, ClickMode::rests, 0);
  for (const PlannedBeat& beat : track.beats) {
    if (beat.pass != 1 || beat.tick < 0) continue;
    const int bar = std::stoi(beat.bar);
    EXPECT_EQ(beat.clicks, (bar - 1) % 4 < 2) << "bar " << beat.bar;
  }
}

TEST(ClickTrack, OffIsSilentAndCountsNobodyIn) {
  const ClickTrack track = track_of(scene({}, kThreeAndOne), ClickMode::off);
  EXPECT_TRUE(clicks_of(track, 48000).empty());
  EXPECT_EQ(track.count_in_seconds, 0);
  EXPECT_FALSE(track.beats.empty());
}

}  // namespace
}  // namespace loftbeat::live
