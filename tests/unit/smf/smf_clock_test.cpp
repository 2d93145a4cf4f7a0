#include <gtest/gtest.h>

#include <random>

#include "music/smf_file.h"

namespace loftbeat::music {
namespace {

SmfEvent tempo(std::int64_t ticks, std::uint32_t microseconds) {
  std::string data;
  for (const int shift : {16, 8, 0})
    data.push_back(static_cast<char>(microseconds >> shift & 0xFF));
  return {ticks, 0xFF, 0x51, data};
}

Instant ns(std::int64_t count) { return Instant(Nanoseconds(count)); }

// RP-001: 120 to the minute without a tempo event.
TEST(SmfClock, RunsAt120WithoutATempo) {
  SmfFile file;
  const SmfClock clock(file);
  EXPECT_EQ(clock.instant(0), ns(0));
  EXPECT_EQ(clock.instant(480), ns(500'000'000));
  EXPECT_EQ(clock.instant(1), ns(1'041'667));  // 500 ms / 480 = 1.0416666... ms
}

// By hand: 2 quarters of 0.5 s, then 1 quarter of 1 s, then quarters of 0.25 s.
TEST(SmfClock, FollowsTempoEventsOfAllTracks) {
  SmfFile file;
  file.ticks_per_quarter = 100;
  file.tracks.push_back({{tempo(300, 250'000)}, false});
  file.tracks.push_back({{tempo(200, 1'000'000)}, false});
  const SmfClock clock(file);
  EXPECT_EQ(clock.instant(100), ns(500'000'000));
  EXPECT_EQ(clock.instant(200), ns(1'000'000'000));
  EXPECT_EQ(clock.instant(250), ns(1'500'000'000));
  EXPECT_EQ(clock.instant(300), ns(2'000'000'000));
  EXPECT_EQ(clock.instant(400), ns(2'250'000'000));
}

TEST(SmfClock, TakesTheLastOfSeveralTempiAtOneTick) {
  SmfFile file;
  file.tracks.push_back({{tempo(0, 1'000'000), tempo(0, 250'000)}, false});
  EXPECT_EQ(SmfClock(file).instant(480), ns(250'000'000));
}

TEST(SmfClock, CountsFrames) {
  SmfFile file;
  file.smpte = true;
  file.ticks_per_second = 1000;
  file.tracks.push_back({{tempo(0, 250'000)}, false});  // of no concern to frames
  EXPECT_EQ(SmfClock(file).instant(1234), ns(1'234'000'000));
}

// Property, against a sum in exact integers over one common denominator: after thousands of
// tempo events nothing has added up.
TEST(SmfClock, IsExactAfterManyTempi) {
  std::mt19937 random(7);
  SmfFile file;
  file.ticks_per_quarter = 479;
  file.tracks.emplace_back();
  Wide micro_ticks = 0;
  std::int64_t ticks = 0;
  std::uint32_t current = 500'000;
  for (int i = 0; i < 5000; ++i) {
    const std::int64_t step = std::uniform_int_distribution<int>(1, 1000)(random);
    micro_ticks += Wide{step} * current;
    ticks += step;
    current = std::uniform_int_distribution<std::uint32_t>(200'000, 1'500'000)(random);
    file.tracks[0].events.push_back(tempo(ticks, current));
  }
  const auto expected = static_cast<std::int64_t>((micro_ticks * 2000 + 479) / (2 * 479));
  EXPECT_EQ(SmfClock(file).instant(ticks), ns(expected));
}

TEST(SmfClock, NeverRunsBackwardsAndNeverOverflows) {
  SmfFile file;
  file.ticks_per_quarter = 1;
  file.tracks.push_back({{tempo(0, 0xFFFFFF)}, false});
  const SmfClock clock(file);
  Instant before = clock.instant(0);
  for (std::int64_t ticks = 1; ticks < (std::int64_t{1} << 52); ticks *= 3) {
    EXPECT_GE(clock.instant(ticks), before);
    before = clock.instant(ticks);
  }
  EXPECT_GT(before - ns(0), std::chrono::hours(24 * 365 * 100));
}

}  // namespace
}  // namespace loftbeat::music
