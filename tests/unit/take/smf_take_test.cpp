#include "take/smf_take.h"

#include <gtest/gtest.h>

#include <chrono>
#include <cstdlib>
#include <ctime>
#include <random>
#include <tuple>

#include "music/smf_file.h"
#include "performance.h"

namespace loftbeat::take {
namespace {

using music::SmfEvent;
using music::SmfFile;
using music::SmfTrack;

Take parsed(const SmfFile& file) {
  auto take = parse_take(music::format_smf(file), "t.mid");
  return take.ok() ? *take : Take{};
}

TEST(SmfTake, HonoursTheTempoMap) {
  SmfFile file;
  file.ticks_per_quarter = 100;
  file.tracks.push_back(SmfTrack{{{0, 0xFF, 0x51, std::string("\x0F\x42\x40", 3)}}, false});
  file.tracks.push_back(SmfTrack{{{150, 0x90, 0, "\x3C\x40"}, {200, 0x80, 0, "\x3C\x40"}}, false});
  const Take take = parsed(file);
  ASSERT_EQ(take.events.size(), 2u);
  EXPECT_EQ(take.events[0].at, ms(1500));
  EXPECT_EQ(take.events[1].at, ms(2000));
  EXPECT_EQ(take.stamp_step, std::chrono::milliseconds(10));
}

TEST(SmfTake, TakesVelocityZeroAsARelease) {
  SmfFile file;
  file.tracks.push_back(
      SmfTrack{{{0, 0x90, 0, "\x3C\x40"}, {10, 0x90, 0, std::string("\x3C\x00", 2)}}, false});
  EXPECT_EQ(parsed(file).events[1].kind, EventKind::note_off);
}

TEST(SmfTake, KeepsMarkersPortsAndExclusives) {
  SmfFile file;
  file.tracks.push_back(SmfTrack{{{0, 0xFF, 0x06, "verse 2"},
                                  {1, 0xFF, 0x21, std::string(1, '\x02')},
                                  {2, 0x95, 0, "\x3C\x40"},
                                  {3, 0xF0, 0, "\x7D\x01"},
                                  {4, 0xF7, 0, "\x02\xF7"},
                                  {5, 0xF7, 0, "\xF8"}},
                                 false});
  const Take take = parsed(file);
  ASSERT_EQ(take.events.size(), 3u);
  EXPECT_EQ(take.events[0].kind, EventKind::marker);
  EXPECT_EQ(take.events[0].bytes, "verse 2");
  EXPECT_EQ(take.events[1].port, 2);
  EXPECT_EQ(take.events[1].channel, 5);
  EXPECT_EQ(take.events[2].bytes, "\xF0\x7D\x01\x02\xF7");
}

TEST(SmfTake, LeavesOutWhatComesAfterADay) {
  SmfFile file;
  file.ticks_per_quarter = 1;
  file.tracks.push_back(
      SmfTrack{{{0, 0x90, 0, "\x3C\x40"}, {200'000, 0x80, 0, "\x3C\x40"}}, false});
  const Take take = parsed(file);
  EXPECT_EQ(take.events.size(), 1u);
  ASSERT_EQ(take.notices.size(), 1u);
  EXPECT_NE(take.notices[0].message.find("24 hours"), std::string::npos);
}

TEST(SmfTake, IsWrittenWithTicksOfTwentyMicroseconds) {
  const std::string bytes = format_take(Performance().key(0.02, 0.04, 60).take());
  // Division 25000 = 61 A8; 500000 us a quarter = 07 A1 20: 20 us a tick.
  const std::string_view expected(
      "MThd\0\0\0\6\0\0\0\1\x61\xA8MTrk\0\0\0\x13\0\xFF\x51\3\7\xA1\x20\1\x90\x3C\x40\1\x80\x3C\x40"
      "\0\xFF\x2F\0",
      41);
  EXPECT_EQ(bytes, expected);
}

// Law: writing and reading back moves nothing by more than half a tick, 10 microseconds, and
// loses nothing; doing it again moves nothing at all.
TEST(SmfTake, RoundTripsWithinHalfATick) {
  for (std::uint32_t seed = 0; seed < 100; ++seed) {
    std::mt19937 random(seed);
    const auto below = [&](int limit) {
      return std::uniform_int_distribution<int>(0, limit - 1)(random);
    };
    Performance p;
    double at = 0;
    for (int i = 0; i < 200; ++i) {
      at += below(50) == 0 ? below(1'000'000) : below(30'000) * 0.01237;
      const auto kind = static_cast<EventKind>(below(7));
      const bool one = kind == EventKind::program || kind == EventKind::channel_pressure;
      p.event(at, kind, below(16), below(128), one ? 0 : 1 + below(127), below(3));
    }
    const Take take = p.take();
    const auto again = parse_take(format_take(take), "t.mid");
    ASSERT_TRUE(again.ok());
    EXPECT_EQ(again->notices.size(), 0u);
    ASSERT_EQ(again->events.size(), take.events.size());
    for (std::size_t i = 0; i < take.events.size(); ++i) {
      const Event& a = take.events[i];
      const Event& b = again->events[i];
      ASSERT_LE(std::abs((a.at - b.at).count()), 10'000) << seed << " event " << i;
      ASSERT_EQ(std::tie(a.kind, a.port, a.channel, a.data1, a.data2),
                std::tie(b.kind, b.port, b.channel, b.data1, b.data2));
    }
    EXPECT_EQ(format_take(*again), format_take(take));
  }
}

TEST(SmfTake, OfAnHourIsReadAndCleanedQuickly) {
  std::mt19937 random(1);
  std::normal_distribution<double> jitter(0, 20);
  Performance p;
  for (int beat = 0; beat < 8000; ++beat) {
    for (int voice = 0; voice < 4; ++voice) {
      const double on = 100 + beat * 450.0 + jitter(random);
      p.key(on, on + 400, 40 + 9 * voice + beat % 8, voice == 0 ? 2 : 0, 40 + beat % 50);
    }
  }
  const std::string bytes = format_take(p.take());
  const std::clock_t begin = std::clock();
  const auto take = parse_take(bytes, "hour.mid");
  const std::size_t notes = clean(*take).notes.size();
  const double spent = static_cast<double>(std::clock() - begin) / CLOCKS_PER_SEC;
  EXPECT_EQ(notes, 32'000u);
  // Of this program's own time, so that a busy machine does not count: 0.04 s measured; the bound
  // leaves room for sanitizers.
  EXPECT_LT(spent, 1.0);
}

}  // namespace
}  // namespace loftbeat::take
