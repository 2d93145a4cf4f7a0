#include "voice/perform_score.h"

#include <algorithm>
#include <map>
#include <set>

#include <gtest/gtest.h>

#include "music/read.h"
#include "plan/read.h"
#include "plan/route.h"
#include "small_organ.h"
#include "voice/hands.h"

namespace loftbeat::voice {
namespace {

using rt::Act;

// Two bars of four crotchets in four parts, no upbeat; every key of the tune is another but the
// second and third, which repeat.
music::Score tune() {
  music::Score score;
  const int soprano[] = {72, 74, 74, 76, 77, 79, 76, 72};
  for (int i = 0; i < 8; ++i) {
    const int below[] = {soprano[i], 67, 60, 48 + i % 3};
    for (int voice = 0; voice < 4; ++voice)
      score.notes.push_back(
          {i * kTicksPerQuarter, kTicksPerQuarter, below[voice], voice, voice / 2});
  }
  std::sort(score.notes.begin(), score.notes.end(), [](const music::Note& a, const music::Note& b) {
    return std::tie(a.onset, a.pitch, a.voice) < std::tie(b.onset, b.pitch, b.voice);
  });
  for (int bar = 0; bar < 2; ++bar)
    score.bars.push_back(
        {bar * 4 * kTicksPerQuarter, 4 * kTicksPerQuarter, std::to_string(bar + 1), 4, 4, false});
  score.length = 8 * kTicksPerQuarter;
  score.phrases = {{{0, 4 * kTicksPerQuarter}}, {{4 * kTicksPerQuarter, 8 * kTicksPerQuarter}}};
  score.voices = 4;
  score.staves = 2;
  return score;
}

struct Played {
  plan::Plan plan;
  music::Score score = tune();
  organ::Organ organ = small_organ();
  plan::Route route;
  Performance performance;
};

Played play(const std::string& plan_text, const std::vector<std::string>& stops) {
  Played played;
  const auto plan =
      plan::parse_plan("score = \"x.mid\"\ntempo = 60\n" + plan_text, "test.plan.toml");
  EXPECT_TRUE(plan.ok()) << to_string(plan.error());
  played.plan = *plan;
  const auto route = plan::make_route(played.plan, played.score);
  EXPECT_TRUE(route.ok()) << to_string(route.error());
  played.route = *route;
  ScoreOrder order;
  order.plan = &played.plan;
  order.score = &played.score;
  order.route = &played.route;
  order.organ = &played.organ;
  order.registrations.assign(played.route.passes.size(), drawn(played.organ, stops));
  order.tempo_bpm = played.plan.tempo_bpm;
  played.performance = perform(order);
  return played;
}

const std::vector<std::string> kGreatAndPedal = {"Great Open Diapason 8", "Pedal Bourdon 16"};

double first_down(const Performance& performance, double after) {
  for (const rt::Event& event : performance.events)
    if (event.act == Act::key_down && seconds_from_frames(event.frame) >= after - 1e-9)
      return seconds_from_frames(event.frame);
  return -1;
}

double last_up(const Performance& performance, double before) {
  double last = -1;
  for (const rt::Event& event : performance.events)
    if (event.act == Act::key_up && seconds_from_frames(event.frame) < before - 1e-9)
      last = seconds_from_frames(event.frame);
  return last;
}

TEST(PerformScore, FeetPlayTheBassAndHandsTheRest) {
  const Played played = play("verses = 1\nplay-over = \"none\"\n", kGreatAndPedal);
  std::map<int, std::set<int>> keys;
  for (const rt::Event& event : played.performance.events)
    if (event.act == Act::key_down) keys[event.division].insert(event.index);
  EXPECT_EQ(keys[2], (std::set<int>{48, 49, 50}));
  EXPECT_EQ(keys[0], (std::set<int>{60, 67, 72, 74, 76, 77, 79}));
  EXPECT_TRUE(keys[1].empty());
}

TEST(PerformScore, EveryKeyThatGoesDownComesUpBeforeItIsStruckAgain) {
  for (const char* more : {"", "textures = [\"unison\"]\n", "textures = [\"fuller\"]\n",
                           "textures = [\"no-pedal\", \"tune-up-octave\"]\n"}) {
    const Played played =
        play(std::string("verses = 3\nplay-over = [1]\njoin = \"2+1\"\n") + more, kGreatAndPedal);
    std::map<std::pair<int, int>, int> down;
    std::int64_t last = 0;
    for (const rt::Event& event : played.performance.events) {
      ASSERT_GE(event.frame, last);
      last = event.frame;
      int& count = down[{event.division, event.index}];
      if (event.act == Act::key_down) ++count;
      if (event.act == Act::key_up) --count;
      ASSERT_GE(count, 0);
      ASSERT_LE(count, 1);
    }
    for (const auto& [key, count] : down) EXPECT_EQ(count, 0);
  }
}

TEST(PerformScore, APlannedJoinIsKeptToTheFrame) {
  // The last chord begins at beat 7; it sounds 2.5 beats, then 1.5 are silent.
  const Played played =
      play("verses = 2\nplay-over = \"none\"\njoin = { hold = 2.5, lift = 1.5 }\n", kGreatAndPedal);
  EXPECT_NEAR(last_up(played.performance, 10), 9.5, 1e-4);
  EXPECT_NEAR(first_down(played.performance, 9), 11, 1e-4);
}

TEST(PerformScore, ByTheBarTheNextVerseEntersOnItsBeat) {
  const Played played = play("verses = 2\nplay-over = \"none\"\njoin = \"bar\"\n", kGreatAndPedal);
  EXPECT_NEAR(first_down(played.performance, 7.5), 8, 1e-4);
  EXPECT_NEAR(last_up(played.performance, 8), 7.5, 1e-4);  // half a beat to breathe
}

TEST(PerformScore, StopsMoveInTheLiftAndRegistrationsFollowThePasses) {
  Played played = play("verses = 2\nplay-over = \"none\"\njoin = \"2+2\"\n", kGreatAndPedal);
  ScoreOrder order{&played.plan,
                   &played.score,
                   &played.route,
                   &played.organ,
                   {drawn(played.organ, {"Great Open Diapason 8"}),
                    drawn(played.organ, {"Great Open Diapason 8", "Great Principal 4"})},
                   60};
  const Performance performance = perform(order);
  const auto moved =
      std::find_if(performance.events.begin(), performance.events.end(),
                   [](const rt::Event& e) { return e.act == Act::draw_stop && e.index == 1; });
  ASSERT_NE(moved, performance.events.end());
  EXPECT_NEAR(seconds_from_frames(moved->frame), 10, 1e-4);  // silent from 9 to 11
  EXPECT_EQ(std::count_if(performance.events.begin(), performance.events.end(),
                          [](const rt::Event& e) { return e.act == Act::push_in_stop; }),
            0);
}

TEST(PerformScore, AnUnaccompaniedVerseIsSilentForItsLength) {
  const Played played =
      play("verses = 3\nplay-over = \"none\"\njoin = \"1+1\"\n[verse.2]\nunaccompanied = true\n",
           kGreatAndPedal);
  const double entry = first_down(played.performance, 8.5);
  EXPECT_GE(entry, 16);
  EXPECT_LT(entry, 24);
}

TEST(PerformScore, WithoutPedalStopsTheHandsPlayEverything) {
  const Played played = play("verses = 1\nplay-over = \"none\"\n", {"Great Open Diapason 8"});
  for (const rt::Event& event : played.performance.events) {
    if (event.act == Act::key_down) {
      EXPECT_EQ(event.division, 0);
    }
  }
  EXPECT_EQ(std::count_if(played.performance.events.begin(), played.performance.events.end(),
                          [](const rt::Event& e) { return e.act == Act::key_down; }),
            32);
}

TEST(PerformScore, HandsGoToTheManualThatSounds) {
  const organ::Organ organ = small_organ();
  EXPECT_EQ(manuals_for(organ, drawn(organ, {"Swell Stopped Flute 8"})).hands, 1);
  EXPECT_EQ(manuals_for(organ, drawn(organ, {"Great Principal 4", "Swell Stopped Flute 8"})).hands,
            0);
  organ::Registration coupled = drawn(organ, {"Swell Stopped Flute 8"});
  coupled.couplers = {0};
  EXPECT_EQ(manuals_for(organ, coupled).hands, 0);
  EXPECT_EQ(manuals_for(organ, drawn(organ, {})).hands, 0);
  EXPECT_FALSE(manuals_for(organ, drawn(organ, {"Great Principal 4"})).feet.has_value());
}

TEST(PerformScore, MarksStandAtTheBars) {
  const Played played = play("verses = 2\nplay-over = [1]\njoin = \"bar\"\n", kGreatAndPedal);
  const auto& marks = played.performance.marks;
  ASSERT_EQ(marks.size(), 5U);
  EXPECT_EQ(marks[0].pass, "play-over");
  EXPECT_EQ(marks[2].bar, "2");
  EXPECT_NEAR(seconds_from_frames(marks[2].frame - marks[1].frame), 4, 1e-4);
}

}  // namespace
}  // namespace loftbeat::voice
