#include "voice/rt/player.h"

#include <algorithm>
#include <cmath>
#include <vector>

#include <gtest/gtest.h>

#include "constant_pipes.h"

namespace loftbeat::voice::rt {
namespace {

PlayerSpec dry_spec() {
  PlayerSpec spec;
  spec.console.divisions = {{36, 96}};
  spec.console.stops = {{0}, {0}};
  spec.pipes = std::make_unique<ConstantPipes>(std::vector<int>{0, 0});
  spec.limiter = LimiterUse::off;
  return spec;
}

std::vector<float> rendered(Player& player, std::size_t frames, std::size_t step = 0) {
  std::vector<float> left(frames);
  std::vector<float> right(frames);
  for (std::size_t at = 0; at < frames;) {
    const std::size_t some = std::min(step == 0 ? frames : step, frames - at);
    player.render(left.data() + at, right.data() + at, some);
    at += some;
  }
  EXPECT_EQ(left, right);
  return left;
}

TEST(Player, AnEventSoundsFromTheStartOfTheBlockItFallsIn) {
  for (const std::int64_t frame : {0, 1, 63, 64, 65, 127, 128, 1000}) {
    Player player(dry_spec());
    const std::vector<Event> list = {{0, Act::draw_stop, 0, 0, 0},
                                     {frame, Act::key_down, 0, 60, 0}};
    player.play(list);
    const std::vector<float> sound = rendered(player, 2048);
    const auto first = std::find_if(sound.begin(), sound.end(), [](float x) { return x != 0; });
    EXPECT_EQ(first - sound.begin(), frame / 64 * 64) << frame;
  }
}

TEST(Player, SoundsTheSameHoweverItIsAsked) {
  std::vector<Event> list = {{0, Act::draw_stop, 0, 0, 0}};
  for (std::int64_t i = 0; i < 40; ++i)
    list.push_back({i * 97, i % 2 == 0 ? Act::key_down : Act::key_up, 0,
                    static_cast<std::uint16_t>(60 + i / 2 % 3), 0});
  std::vector<float> first;
  for (const std::size_t step : {1U, 37U, 64U, 128U, 4096U}) {
    Player player(dry_spec());
    player.play(list);
    const std::vector<float> sound = rendered(player, 4096, step);
    if (first.empty()) first = sound;
    EXPECT_EQ(sound, first) << step;
  }
}

TEST(Player, EventsHandedOverWaitForTheirFrame) {
  Player player(dry_spec());
  ASSERT_TRUE(player.post({-5, Act::draw_stop, 0, 1, 0}));
  ASSERT_TRUE(player.post({640, Act::key_down, 0, 60, 0}));
  const std::vector<float> sound = rendered(player, 1280);
  EXPECT_EQ(sound[639], 0.0F);
  EXPECT_FLOAT_EQ(sound[640], 0.01F);
  EXPECT_EQ(player.speaking(), 1);
}

TEST(Player, ALoopBeginsAgainWithAllKeysUp) {
  Player player(dry_spec());
  const std::vector<Event> list = {{0, Act::draw_stop, 0, 0, 0}, {64, Act::key_down, 0, 60, 0}};
  player.play(list, 256);
  const std::vector<float> sound = rendered(player, 1024);
  for (std::size_t i = 0; i < sound.size(); ++i)
    ASSERT_FLOAT_EQ(sound[i], i % 256 < 64 ? 0.0F : 0.01F) << i;
}

TEST(Player, SilenceEverythingFadesAndKeepsTheStops) {
  Player player(dry_spec());
  const std::vector<Event> list = {{0, Act::draw_stop, 0, 0, 0},
                                   {0, Act::key_down, 0, 60, 0},
                                   {4800, Act::silence_everything, 0, 0, 0},
                                   {9600, Act::key_down, 0, 62, 0}};
  player.play(list);
  const std::vector<float> sound = rendered(player, 12'800);
  for (std::size_t i = 4800; i < 4800 + 960; ++i) ASSERT_LE(sound[i], sound[i - 1]);
  for (std::size_t i = 4800 + 960; i < 9600; ++i) ASSERT_EQ(sound[i], 0.0F);
  EXPECT_FLOAT_EQ(sound[9600], 0.01F);
}

TEST(Player, SilenceEverythingMutesTheRoomsTailButNotWhatIsPlayedNext) {
  PlayerSpec spec = dry_spec();
  Convolver::Spec room;
  room.left.assign(24'000, 0.001F);
  room.right = room.left;
  room.quantum = 64;
  spec.room = Convolver::make(room).value();
  spec.direct_gain = 0.5;
  Player player(std::move(spec));
  const std::vector<Event> list = {{0, Act::draw_stop, 0, 0, 0},
                                   {0, Act::key_down, 0, 60, 0},
                                   {19'200, Act::silence_everything, 0, 0, 0},
                                   {24'000, Act::key_down, 0, 62, 0}};
  player.play(list);
  const std::vector<float> sound = rendered(player, 96'000);
  EXPECT_GT(sound[19'100], 0.1F);
  for (std::size_t i = 19'200 + 1024; i < 24'000; ++i) ASSERT_EQ(sound[i], 0.0F);
  EXPECT_FLOAT_EQ(sound[24'200], 0.005F);  // straight, without the room
  EXPECT_NEAR(sound.back(), 0.01 * (0.5 + 24), 0.01);
}

TEST(Player, TheQuietStartRisesSlowlyToTheVolume) {
  PlayerSpec spec = dry_spec();
  spec.quiet_start_db = 30;
  Player player(std::move(spec));
  const std::vector<Event> list = {{0, Act::draw_stop, 0, 0, 0}, {0, Act::key_down, 0, 60, 0}};
  player.play(list);
  const std::vector<float> sound = rendered(player, 96'000);
  EXPECT_NEAR(20 * std::log10(sound[0] / 0.01), -30, 0.1);
  for (std::size_t i = 0; i + 2400 < sound.size(); i += 64)
    ASSERT_LT(20 * std::log10(sound[i + 2400] / sound[i]), 1.6);  // 30 dB a second
  EXPECT_FLOAT_EQ(sound.back(), 0.01F);
}

TEST(Player, AChangeOfVolumeMovesByLessThan6DbIn50Ms) {
  Player player(dry_spec());
  const std::vector<Event> list = {{0, Act::draw_stop, 0, 0, 0},
                                   {0, Act::key_down, 0, 60, 0},
                                   {4800, Act::volume, 0, 0, -40},
                                   {48'000, Act::volume, 0, 0, 20}};
  player.play(list);
  const std::vector<float> sound = rendered(player, 192'000);
  for (std::size_t i = 0; i + 2400 < sound.size(); i += 64)
    ASSERT_LT(std::abs(20 * std::log10(sound[i + 2400] / sound[i])), 6.0);
  EXPECT_NEAR(20 * std::log10(sound[47'999] / 0.01), -40, 0.1);
  EXPECT_NEAR(20 * std::log10(sound.back() / 0.01), 20, 0.1);
}

TEST(Player, ATremulantSwaysPitchAndLevelAndStopsClean) {
  PlayerSpec spec = dry_spec();
  spec.tremulants = {{0, 6, 8}};
  auto pipes = std::make_unique<ConstantPipes>(std::vector<int>{0, 0});
  const ConstantPipes* ear = pipes.get();
  spec.pipes = std::move(pipes);
  Player player(std::move(spec));
  const std::vector<Event> list = {{0, Act::draw_stop, 0, 0, 0},
                                   {0, Act::key_down, 0, 60, 0},
                                   {0, Act::tremulant_on, 0, 0, 0},
                                   {48'000, Act::tremulant_off, 0, 0, 0}};
  player.play(list);
  const std::vector<float> sound = rendered(player, 96'000);
  EXPECT_NEAR(*ear->cents_.begin(), -8, 0.05);
  EXPECT_NEAR(*ear->cents_.rbegin(), 8, 0.05);
  const auto [least, most] = std::minmax_element(sound.begin(), sound.begin() + 48'000);
  EXPECT_NEAR(20 * std::log10(*most / *least), 2 * kTremulantDb, 0.05);
  EXPECT_FLOAT_EQ(sound.back(), 0.01F);
}

TEST(Player, OddEventsDoNothing) {
  Player player(dry_spec());
  std::vector<Event> list;
  for (int act = 0; act <= static_cast<int>(Act::volume); ++act)
    for (const int index : {0, 500, 65'535})
      list.push_back(
          {0, static_cast<Act>(act), 255, static_cast<std::uint16_t>(index), std::nanf("")});
  player.play(list);
  for (const float sample : rendered(player, 4096)) ASSERT_TRUE(std::isfinite(sample));
}

}  // namespace
}  // namespace loftbeat::voice::rt
