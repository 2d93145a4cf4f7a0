// The player file: what is written is read again, what is wrong is told, no take counts twice.

#include "practice/player_file.h"

#include <random>

#include <gtest/gtest.h>

namespace loftbeat::practice {
namespace {

using advise::Handling;
using advise::MovementTime;
using organ::Side;

std::string keys_number(std::size_t n) {
  std::string text = "0000000000000000";
  for (std::size_t digit = 16; digit-- > 0 && n > 0; n /= 10)
    text[digit] = static_cast<char>('0' + n % 10);
  return text;
}

PlayerFile random_player(std::mt19937& random) {
  PlayerFile player;
  std::uniform_real_distribution<double> ratio(advise::kLeastRatio, advise::kMostRatio);
  const std::size_t takes = random() % 20;
  for (std::size_t i = 0; i < takes; ++i) {
    PlayerTake take{keys_number(i), {}};
    for (auto n = random() % 6; n > 0; --n) {
      const auto handling = static_cast<Handling>(random() % 3);
      const Side side =
          handling == Handling::press_piston ? Side::unknown : static_cast<Side>(1 + random() % 3);
      take.movements.push_back({side, handling, ratio(random)});
    }
    player.takes.push_back(take);
  }
  return player;
}

TEST(PlayerFile, IsReadAsItWasWritten) {
  std::mt19937 random(11);
  for (int round = 0; round < 200; ++round) {
    const PlayerFile player = random_player(random);
    const std::string text = format_player(player);
    const auto read = parse_player(text, "player.toml");
    ASSERT_TRUE(read.ok()) << to_string(read.error()) << text;
    EXPECT_EQ(*read, player);
    EXPECT_EQ(format_player(*read), text);
  }
}

// The largest that is kept can be read again.
TEST(PlayerFile, TheFullestIsReadToo) {
  PlayerFile player;
  for (std::size_t i = 0; i < kMostPlayerTakes; ++i)
    player.takes.push_back(
        {keys_number(i), std::vector<MovementTime>(kMostPlayerMovements,
                                                   {Side::above, Handling::push_in, 1.0 / 3})});
  const auto read = parse_player(format_player(player), "player.toml");
  ASSERT_TRUE(read.ok()) << to_string(read.error());
  EXPECT_EQ(*read, player);
}

void expect_refused(const std::string& text, const std::string& where, const std::string& words) {
  const auto read = parse_player(text, "player.toml");
  ASSERT_FALSE(read.ok()) << text;
  const std::string told = to_string(read.error());
  EXPECT_NE(told.find("player.toml:" + where), std::string::npos) << told;
  EXPECT_NE(told.find(words), std::string::npos) << told;
}

TEST(PlayerFile, WhatIsWrongIsToldWithItsLine) {
  const std::string take = "[[take]]\nkeys = \"0123456789abcdef\"\n";
  expect_refused("takes = 3\n", "1", "unknown key");
  expect_refused(take + "kees = 1\n", "3", "unknown key");
  expect_refused("[[take]]\nkeys = \"0123\"\n", "2", "16 hex digits");
  expect_refused(take + take, "4", "already");
  const std::string move = take + "[[take.movement]]\n";
  expect_refused(move + "kind = \"draw\"\nratio = 1\n", "4", "side");
  expect_refused(move + "side = \"left\"\nkind = \"drawn\"\nratio = 1\n", "5", "draw");
  expect_refused(move + "side = \"left\"\nkind = \"piston\"\nratio = 1\n", "4", "pistons");
  expect_refused(move + "side = \"left\"\nkind = \"draw\"\nratio = 3.01\n", "6", "ratio");
  expect_refused(move + "side = \"left\"\nkind = \"draw\"\nratio = nan\n", "6", "ratio");
  expect_refused(move + "side = \"left\"\nkind = \"draw\"\n", "3", "ratio");
}

// Hostile: any bytes end in an error or a value, a cut file never in a crash.
TEST(PlayerFile, AnyTextIsTaken) {
  std::mt19937 random(5);
  const std::string whole = format_player(random_player(random));
  for (std::size_t cut = 0; cut < whole.size(); cut += 7)
    (void)parse_player(whole.substr(0, cut), "player.toml");
  for (int round = 0; round < 500; ++round) {
    std::string text = whole;
    for (int i = 0; i < 3 && !text.empty(); ++i)
      text[random() % text.size()] = static_cast<char>(random() % 256);
    (void)parse_player(text, "player.toml");
  }
  EXPECT_FALSE(parse_player(std::string(std::size_t{5} << 20, '#'), "player.toml").ok());
  EXPECT_TRUE(parse_player("", "player.toml").ok());
}

PlayerTake take_with(const std::string& keys) {
  return {keys, {{Side::left, Handling::draw, 1.2}}};
}

TEST(PlayerFile, NoTakeCountsTwice) {
  PlayerFile player;
  EXPECT_EQ(count_take(player, take_with(keys_number(1))), Counted::now);
  const PlayerFile once = player;
  EXPECT_EQ(count_take(player, take_with(keys_number(1))), Counted::before);
  EXPECT_EQ(count_take(player, {keys_number(2), {}}), Counted::nothing_seen);
  EXPECT_EQ(player, once);
}

TEST(PlayerFile, TheOldestTakesGiveWay) {
  PlayerFile player;
  for (std::size_t i = 0; i <= kMostPlayerTakes; ++i)
    EXPECT_EQ(count_take(player, take_with(keys_number(i))), Counted::now);
  EXPECT_EQ(player.takes.size(), kMostPlayerTakes);
  EXPECT_EQ(player.takes.front().keys, keys_number(1));
}

TEST(PlayerFile, KeysTellTakesApartByTheirNotesAlone) {
  take::Take take;
  for (int i = 0; i < 4; ++i) {
    take::Event event;
    event.at = instant_from_seconds(i);
    event.data1 = static_cast<std::uint8_t>(60 + i);
    take.events.push_back(event);
  }
  const std::string keys = keys_of(take);
  EXPECT_EQ(keys.size(), 16u);
  take::Event marker;
  marker.kind = take::EventKind::marker;
  marker.bytes = "stops";
  take.events.push_back(marker);
  EXPECT_EQ(keys_of(take), keys);
  take.events[1].data1 = 72;
  EXPECT_NE(keys_of(take), keys);
}

// Median of three, drawn towards the table: 1.5 ^ (3 / 6). Source: advise/player_times.h.
TEST(PlayerFile, GivesTheMedianBySideAndKind) {
  PlayerFile player;
  player.takes.push_back({keys_number(1),
                          {{Side::left, Handling::draw, 1.5},
                           {Side::left, Handling::draw, 3},
                           {Side::left, Handling::draw, 1.1},
                           {Side::right, Handling::draw, 0.5}}});
  const advise::PlayerTimes times = player.times();
  EXPECT_DOUBLE_EQ(times.at(Side::left, Handling::draw).factor, 1.5);
  EXPECT_NEAR(advise::used_factor(times.at(Side::left, Handling::draw)), std::sqrt(1.5), 1e-12);
  EXPECT_EQ(times.at(Side::right, Handling::draw).observations, 1);
  EXPECT_EQ(times.at(Side::left, Handling::push_in).observations, 0);
  EXPECT_EQ(advise::player_times_words(times),
            "drawing on the left 1.22 times the tabled time (3 seen)");
}

}  // namespace
}  // namespace loftbeat::practice
