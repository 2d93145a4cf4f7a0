#include "crowd/crowd_record.h"

#include <cstdlib>
#include <string>

#include <gtest/gtest.h>

namespace loftbeat::crowd {
namespace {

CrowdRecord some_record() {
  CrowdRecord record;
  record.people = 120;
  record.reluctance = 0.035;
  record.metres = 17.5;
  record.seed = ~std::uint64_t{0};
  for (int i = 0; i < 200; ++i)
    record.beats.push_back({2 + i / 64, (i % 64) * kTicksPerQuarter,
                            Instant(Nanoseconds(1'234'567'891 + i * 750'000'001LL))});
  return record;
}

TEST(CrowdRecord, WrittenAndReadAgainIsTheSame) {
  const CrowdRecord record = some_record();
  const auto read = parse_crowd(format_crowd(record), "people.beats");
  ASSERT_TRUE(read.ok()) << to_string(read.error());
  EXPECT_TRUE(read->notices.empty());
  EXPECT_EQ(read->record.people, record.people);
  EXPECT_EQ(read->record.reluctance, record.reluctance);
  EXPECT_EQ(read->record.metres, record.metres);
  EXPECT_EQ(read->record.seed, record.seed);
  EXPECT_EQ(read->record.beat_ticks, record.beat_ticks);
  EXPECT_EQ(read->record.beats, record.beats);
}

// Cut after any byte: all whole lines are there, or the head is told to be missing.
TEST(CrowdRecord, CutAnywhereKeepsAllWholeLines) {
  const CrowdRecord record = some_record();
  const std::string text = format_crowd(record);
  const std::size_t step = std::getenv("LOFTBEAT_QUICK") != nullptr ? 37 : 1;
  for (std::size_t cut = 0; cut < text.size(); cut += step) {
    const std::string part = text.substr(0, cut);
    const auto whole = static_cast<std::ptrdiff_t>(std::count(part.begin(), part.end(), '\n')) - 6;
    const auto read = parse_crowd(part, "people.beats");
    if (whole < 0 && !read.ok()) {
      EXPECT_EQ(read.error().kind, ErrorKind::unreadable);
      EXPECT_GE(read.error().line, 1);
      continue;
    }
    // A head whose last line lacks its end may be readable as another number, and has no beats.
    ASSERT_TRUE(read.ok()) << cut;
    ASSERT_EQ(static_cast<std::ptrdiff_t>(read->record.beats.size()),
              std::max<std::ptrdiff_t>(whole, 0));
    for (std::size_t i = 0; i < read->record.beats.size(); ++i)
      EXPECT_EQ(read->record.beats[i], record.beats[i]);
  }
}

// One byte turned: never more than that line (or what its time makes run backwards) is lost, and
// it is told.
TEST(CrowdRecord, OneDamagedLineIsLeftOutAndTold) {
  std::string text = format_crowd(some_record());
  const std::size_t at = text.find("2 100800 ");
  ASSERT_NE(at, std::string::npos);
  text[at + 4] = 'x';
  const auto read = parse_crowd(text, "people.beats");
  ASSERT_TRUE(read.ok());
  EXPECT_EQ(read->record.beats.size(), 199U);
  ASSERT_EQ(read->notices.size(), 1U);
  EXPECT_EQ(read->notices[0].line, 17);  // six lines of head, the eleventh beat
}

TEST(CrowdRecord, WrongHeadsAreToldWithTheirLine) {
  const std::string good =
      "loftbeat people 1\npeople 60\nreluctance 0.04\nmetres 20\nseed 7\nbeat 10080\n";
  ASSERT_TRUE(parse_crowd(good, "f").ok());
  const struct {
    const char* from;
    const char* to;
    int line;
  } cases[] = {{"people 1\n", "people 2\n", 1},
               {"people 60", "people 0", 2},
               {"people 60", "folk 60", 2},
               {"people 60", "people 60 ", 2},
               {"people 60", "people 6e1", 2},
               {"0.04", "0.09", 3},
               {"0.04", "nan", 3},
               {"0.04", "-0", 0},
               {"metres 20", "metres inf", 4},
               {"metres 20", "metres 101", 4},
               {"seed 7", "seed -7", 5},
               {"seed 7", "seed 18446744073709551616", 5},
               {"beat 10080", "beat 0", 6},
               {"beat 10080", "", 6}};
  for (const auto& one : cases) {
    std::string text = good;
    text.replace(text.find(one.from), std::string(one.from).size(), one.to);
    const auto read = parse_crowd(text, "people.beats");
    if (one.line == 0) {
      EXPECT_TRUE(read.ok()) << one.to;
      continue;
    }
    ASSERT_FALSE(read.ok()) << one.to;
    EXPECT_EQ(read.error().line, one.line) << one.to;
    EXPECT_EQ(read.error().kind, ErrorKind::unreadable);
    EXPECT_NE(to_string(read.error()).find("people.beats:"), std::string::npos);
  }
}

TEST(CrowdRecord, NonsenseNeverEndsBadly) {
  const std::string good = format_crowd(some_record());
  std::uint64_t state = 3;
  const auto next = [&] {
    state = state * 6364136223846793005ULL + 1442695040888963407ULL;
    return static_cast<std::size_t>(state >> 33U);
  };
  const int tries = std::getenv("LOFTBEAT_QUICK") != nullptr ? 200 : 2000;
  for (int i = 0; i < tries; ++i) {
    std::string text = good;
    for (std::size_t n = 1 + next() % 8; n > 0; --n)
      text[next() % text.size()] = static_cast<char>(next() % 256);
    const auto read = parse_crowd(text, "f");
    if (!read.ok()) continue;
    const auto& beats = read->record.beats;
    EXPECT_LE(beats.size(), 208U);
    for (std::size_t k = 1; k < beats.size(); ++k) EXPECT_GE(beats[k].sung, beats[k - 1].sung);
  }
}

}  // namespace
}  // namespace loftbeat::crowd
