// What comes out never rises by 6 dB within 50 ms unless the player struck a key or drew a stop.
// The pipes are constants here, so that whatever moves is the doing of what comes after them.

#include <algorithm>
#include <cmath>
#include <utility>
#include <vector>

#include <gtest/gtest.h>

#include "constant_pipes.h"
#include "voice/rt/player.h"

namespace loftbeat::voice::rt {
namespace {

constexpr std::int64_t kSecond = kSampleRate;
constexpr std::size_t k50Ms = 2400;

PlayerSpec spec_of_one() {
  PlayerSpec spec;
  spec.console.divisions = {{36, 96}};
  spec.console.stops = {{0}, {0}};
  spec.pipes = std::make_unique<ConstantPipes>(std::vector<int>{0, 0});
  return spec;
}

// A room that is much stronger than the straight sound, as far from the organ in a large church.
std::unique_ptr<Convolver> strong_room(std::size_t quantum) {
  Convolver::Spec room;
  room.left.assign(24'000, 0.0005F);
  room.right = room.left;
  room.quantum = quantum;
  return Convolver::make(room).value();
}

std::vector<float> rendered(Player& player, const std::vector<Event>& list, std::int64_t frames,
                            std::int64_t loop_frames = 0) {
  player.play(list, loop_frames);
  std::vector<float> left(static_cast<std::size_t>(frames));
  std::vector<float> right(left.size());
  player.render(left.data(), right.data(), left.size());
  return left;
}

// The greatest rise within 50 ms, dB, above a floor 60 dB under the loudest; frames up to 50 ms
// after a player's own act are left out.
double greatest_rise_db(const std::vector<float>& sound, const std::vector<std::int64_t>& acts) {
  float loudest = 0;
  for (const float sample : sound) loudest = std::max(loudest, std::abs(sample));
  const float floor = loudest / 1000;
  double greatest = 0;
  for (std::size_t i = 0; i + k50Ms < sound.size(); i += 16) {
    const auto from = static_cast<std::int64_t>(i);
    const auto to = static_cast<std::int64_t>(i + k50Ms);
    // The limiter's 64 frames come on top.
    if (std::any_of(acts.begin(), acts.end(),
                    [&](std::int64_t act) { return act + 128 >= from && act <= to; }))
      continue;
    const float before = std::max(std::abs(sound[i]), floor);
    const float after = std::max(std::abs(sound[i + k50Ms]), floor);
    greatest = std::max(greatest, 20 * std::log10(static_cast<double>(after / before)));
  }
  return greatest;
}

const Event kDraw = {0, Act::draw_stop, 0, 0, 0};
const Event kStrike = {0, Act::key_down, 0, 60, 0};

// The measure itself sees a jump.
TEST(NoJumps, AreSeenByTheMeasure) {
  Player player(spec_of_one());
  const auto sound = rendered(
      player,
      {kDraw, kStrike, {kSecond, Act::draw_stop, 0, 1, 0}, {kSecond, Act::key_down, 0, 62, 0}},
      2 * kSecond);
  EXPECT_NEAR(greatest_rise_db(sound, {0}), 12, 0.1);
  EXPECT_LT(greatest_rise_db(sound, {0, kSecond}), 0.1);
}

TEST(NoJumps, AtTheQuietStartWhateverIsHeldAlready) {
  PlayerSpec spec = spec_of_one();
  spec.quiet_start_db = 30;
  Player player(std::move(spec));
  const auto sound = rendered(player, {kDraw, kStrike}, 3 * kSecond);
  EXPECT_LT(20 * std::log10(static_cast<double>(sound[100] / sound.back())), -29);
  EXPECT_LT(greatest_rise_db(sound, {0}), 6);
}

TEST(NoJumps, WhenTheVolumeIsTurned) {
  Player player(spec_of_one());
  const auto sound = rendered(
      player,
      {kDraw, kStrike, {kSecond, Act::volume, 0, 0, -40}, {3 * kSecond, Act::volume, 0, 0, 12}},
      6 * kSecond);
  EXPECT_LT(greatest_rise_db(sound, {0}), 6);
}

TEST(NoJumps, WhenTheSwellIsOpenedAtOnce) {
  PlayerSpec spec = spec_of_one();
  spec.boxes = {SwellBoxSpec{-40, 300}};
  Player player(std::move(spec));
  const auto sound = rendered(
      player, {kDraw, kStrike, {kSecond, Act::swell, 0, 0, 0}, {2 * kSecond, Act::swell, 0, 0, 1}},
      3 * kSecond);
  EXPECT_LT(std::abs(sound[95'900]), 0.011 * std::abs(sound.back()));
  EXPECT_LT(greatest_rise_db(sound, {0}), 6);
}

TEST(NoJumps, WhenTheLimiterLetsGo) {
  PlayerSpec spec = spec_of_one();
  spec.output_gain = 60;
  Player player(std::move(spec));
  std::vector<Event> list = {kDraw, kStrike, {kSecond, Act::draw_stop, 0, 1, 0}};
  for (std::uint16_t key = 70; key < 90; ++key) {
    list.push_back({kSecond, Act::key_down, 0, key, 0});
    list.push_back({2 * kSecond, Act::key_up, 0, key, 0});
  }
  std::stable_sort(list.begin(), list.end(),
                   [](const Event& a, const Event& b) { return a.frame < b.frame; });
  const auto sound = rendered(player, list, 4 * kSecond);
  EXPECT_LT(player.take_least_gain(), 0.1F);  // some 30 dB held back
  EXPECT_LT(greatest_rise_db(sound, {0, kSecond}), 6);
}

TEST(NoJumps, WhenALoopBeginsAgainUnderAHeldKey) {
  for (const std::size_t quantum : {std::size_t{64}, std::size_t{8192}}) {
    PlayerSpec spec = spec_of_one();
    spec.quantum = quantum;
    Player player(std::move(spec));
    const auto sound = rendered(player, {kDraw, kStrike}, 3 * kSecond, kSecond / 3);
    EXPECT_LT(greatest_rise_db(sound, {0}), 0.1);
  }
}

// What is played after "silence everything" is heard without the room at first; the room comes back
// gently.
TEST(NoJumps, WhenTheRoomComesBackAfterSilenceEverything) {
  for (const std::size_t quantum : {std::size_t{64}, std::size_t{8192}}) {
    PlayerSpec spec = spec_of_one();
    spec.room = strong_room(quantum);
    spec.direct_gain = 0.25;
    Player player(std::move(spec));
    const std::int64_t again = 3 * kSecond / 2;
    const auto sound = rendered(player,
                                {kDraw,
                                 kStrike,
                                 {kSecond, Act::silence_everything, 0, 0, 0},
                                 {again, Act::key_down, 0, 60, 0}},
                                5 * kSecond);
    EXPECT_EQ(sound[63'000], 0.0F) << quantum;
    EXPECT_NEAR(sound.back(), 0.01 * (0.25 + 12), 1e-3) << quantum;
    // A key that is struck builds up its reverberation by itself: the first second is the player's.
    std::vector<std::int64_t> acts;
    for (std::int64_t at = 0; at < 24'000; at += kSecond / 20) acts.push_back(at);
    acts.push_back(again);
    EXPECT_LT(greatest_rise_db(sound, acts), 6) << quantum;
  }
}

}  // namespace
}  // namespace loftbeat::voice::rt
