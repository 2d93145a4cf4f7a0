#include "crowd/sung_pass.h"

#include <gtest/gtest.h>

#include "crowd/firmness.h"
#include "crowd/touch.h"
#include "scene.h"

namespace loftbeat::crowd {
namespace {

TEST(SungPass, IsTheTuneWithItsBeatsPhrasesAndBreaths) {
  const TuneScene scene = tune_scene({8, 4, 1, false});
  const SungPass laid =
      sung_pass(scene.score, scene.route, scene.route.passes[0], plan::BeatUnit::quarter);
  ASSERT_EQ(laid.notes.size(), 32U);
  ASSERT_EQ(laid.knots.size(), 32U);
  for (std::size_t i = 0; i < 32; ++i) {
    EXPECT_EQ(laid.notes[i].at, static_cast<double>(i));
    EXPECT_EQ(laid.notes[i].breath, i == 15 || i == 31) << i;
    EXPECT_EQ(laid.knots[i].phrase, i == 0 || i == 16) << i;
    EXPECT_TRUE(laid.knots[i].beat);
    EXPECT_GE(laid.notes[i].pitch, 67);  // the tune, not the bass
  }
  EXPECT_EQ(laid.onset_after(3), 4);
  EXPECT_EQ(laid.onset_after(31), 32);
}

// The header's worked number, and a stretch that comes twice.
TEST(SungPass, CountsPlacesAlongTheWay) {
  TuneScene scene = tune_scene({8, 4, 1, false});
  plan::RoutePass pass = scene.route.passes[0];
  pass.spans = {{0, 4 * kTicksPerQuarter},
                {12 * kTicksPerQuarter, 16 * kTicksPerQuarter},
                {12 * kTicksPerQuarter, 16 * kTicksPerQuarter}};
  pass.transpose_semitones = 2;
  const SungPass laid = sung_pass(scene.score, scene.route, pass, plan::BeatUnit::quarter);
  EXPECT_EQ(laid.place_of(13 * kTicksPerQuarter, 0), 5.0);
  EXPECT_EQ(laid.place_of(13 * kTicksPerQuarter, 8), 9.0);
  EXPECT_FALSE(laid.place_of(8 * kTicksPerQuarter, 0));
  EXPECT_EQ(laid.length, 12);
  EXPECT_EQ(laid.notes[0].pitch, 69);
}

TEST(SungPass, PhrasesAreAlikeIfTheirTunesAre) {
  TuneScene scene = tune_scene({8, 4, 1, false});
  const Tick second = 16 * kTicksPerQuarter;
  EXPECT_TRUE(alike(scene.score, scene.route, 0, second));
  EXPECT_FALSE(alike(scene.score, scene.route, 0, second + 1));  // no phrase begins there
  scene.score.notes[0].pitch = 49;                               // the bass does not count
  EXPECT_TRUE(alike(scene.score, scene.route, 0, second));
  ++scene.score.notes.back().pitch;
  EXPECT_FALSE(alike(scene.score, scene.route, 0, second));
}

// An upbeat of a quaver: beats lie on the bar lines' grid, half a beat on.
TEST(SungPass, CountsTheBeatsOfAnUpbeatBackFromItsEnd) {
  TuneScene scene = tune_scene({2, 2, 1, false});
  const Tick half = kTicksPerQuarter / 2;
  for (music::Note& note : scene.score.notes) note.onset += half;
  for (music::Bar& bar : scene.score.bars) bar.start += half;
  music::Bar pickup;
  pickup.length = half;
  pickup.pickup = true;
  scene.score.bars.insert(scene.score.bars.begin(), pickup);
  scene.score.notes.insert(scene.score.notes.begin(), {0, half, 62, 0, 0});
  scene.score.length += half;
  scene.score.phrases.clear();
  scene.route.phrases.clear();
  scene.route.passes[0].spans = {{0, scene.score.length}};
  const SungPass laid =
      sung_pass(scene.score, scene.route, scene.route.passes[0], plan::BeatUnit::quarter);
  ASSERT_EQ(laid.knots.size(), 9U);
  EXPECT_EQ(laid.knots[0].at, 0);
  EXPECT_FALSE(laid.knots[0].beat);
  for (std::size_t i = 1; i < 9; ++i) EXPECT_EQ(laid.knots[i].at, static_cast<double>(i) - 0.5);
}

TEST(Firmness, IsWhatTheHeaderSays) {
  Firmness steady;
  for (int k = 0; k < 100; ++k) steady.interval(0.75);
  EXPECT_EQ(steady.value(), 1);
  Firmness slowing;
  for (int k = 0; k < 100; ++k) slowing.interval(0.75 * std::pow(1.005, k));
  EXPECT_GT(slowing.value(), 0.99);
  // Independent intervals: the mean of many comes to the scatter itself.
  for (const double sd : {0.02, 0.05, 0.08}) {
    Firmness scattered;
    rt::Chance chance(4);
    double mean = 0;
    for (int k = 0; k < 20000; ++k) {
      scattered.interval(0.75 * (1 + sd * chance.normal()));
      if (k >= 100) mean += scattered.scatter() * scattered.scatter() / 19900;
    }
    EXPECT_NEAR(std::sqrt(mean), sd, 0.02 * sd) << sd;
  }
  Firmness smeared;
  for (int k = 0; k < 200; ++k) smeared.release(Firmness::Touch::smeared);
  EXPECT_NEAR(smeared.value(), 0.5, 1e-4);
  Firmness paused;
  for (const double interval : {0.75, 0.75, 3.0, 0.75, 0.75}) paused.interval(interval);
  EXPECT_EQ(paused.scatter(), 0);
}

// The header's worked number.
TEST(Touch, IsSmearedFiftyMillisecondsIntoTheNextOnset) {
  const TuneScene scene = tune_scene({2, 2, 1, false});
  for (const auto& [up_s, touch] : {std::pair{0.80, Firmness::Touch::clear},
                                    {0.81, Firmness::Touch::smeared},
                                    {0.70, Firmness::Touch::clear}}) {
    Touch touched(scene.score);
    touched.key_down(instant_from_seconds(0), 67, position_of(1, 0, 0, 0, 0.75, 0));
    std::optional<Firmness::Touch> told;
    if (up_s < 0.75) told = touched.key_up(instant_from_seconds(up_s), 67);
    touched.key_down(instant_from_seconds(0.75), 69,
                     position_of(1, 0, kTicksPerQuarter, 0.75, 0.75, 0.75));
    if (!told) told = touched.key_up(instant_from_seconds(up_s), 67);
    ASSERT_TRUE(told.has_value());
    EXPECT_EQ(*told, touch) << up_s;
  }
  // A wrong note says nothing.
  Touch touched(scene.score);
  touched.key_down(instant_from_seconds(0), 66, position_of(1, 0, 0, 0, 0.75, 0));
  EXPECT_FALSE(touched.key_up(instant_from_seconds(2), 66));
}

}  // namespace
}  // namespace loftbeat::crowd
