#include <gtest/gtest.h>

#include <random>

#include "music/read.h"
#include "music/smf_file.h"

namespace loftbeat::music {
namespace {

// Laws on files made at random: what is written is read back the same, and no damage whatever
// makes the readers fail.

class RandomFile {
 public:
  explicit RandomFile(std::uint32_t seed) : random_(seed) {}

  SmfFile make() {
    SmfFile file;
    file.format = below(2);
    file.ticks_per_quarter = 1 + below(0x7FFF);
    const int tracks = file.format == 0 ? 1 : 1 + below(4);
    for (int t = 0; t < tracks; ++t) file.tracks.push_back(track());
    return file;
  }
  int below(int limit) { return std::uniform_int_distribution<int>(0, limit - 1)(random_); }

 private:
  SmfTrack track() {
    SmfTrack made;
    std::int64_t ticks = 0;
    for (int i = below(60); i > 0; --i) {
      ticks += below(4) == 0 ? 0 : below(1 << (1 + below(27)));
      made.events.push_back(event(ticks));
    }
    made.events.push_back({ticks, 0xFF, 0x2F, ""});
    return made;
  }
  SmfEvent event(std::int64_t ticks) {
    const int kind = below(10);
    if (kind == 8) return {ticks, static_cast<std::uint8_t>(below(2) ? 0xF0 : 0xF7), 0, bytes(256)};
    if (kind == 9) return {ticks, 0xFF, static_cast<std::uint8_t>(below(0x2F)), bytes(256)};
    const auto status = static_cast<std::uint8_t>(0x80 + 16 * below(7) + below(16));
    const bool one = (status & 0xF0) == 0xC0 || (status & 0xF0) == 0xD0;
    std::string data(one ? 1 : 2, '\0');
    for (char& c : data) c = static_cast<char>(below(128));
    return {ticks, status, 0, data};
  }
  std::string bytes(int values) {
    std::string made(static_cast<std::size_t>(below(300)), '\0');
    for (char& c : made) c = static_cast<char>(below(values));
    return made;
  }
  std::mt19937 random_;
};

TEST(SmfRoundTrip, ReadsBackWhatItWrote) {
  for (std::uint32_t seed = 0; seed < 300; ++seed) {
    const SmfFile written = RandomFile(seed).make();
    const auto read = parse_smf(format_smf(written), "r.mid");
    ASSERT_TRUE(read.ok()) << seed;
    EXPECT_TRUE(read->notices.empty()) << seed;
    EXPECT_EQ(read->format, written.format);
    EXPECT_EQ(read->ticks_per_quarter, written.ticks_per_quarter);
    ASSERT_EQ(read->tracks.size(), written.tracks.size());
    for (std::size_t t = 0; t < written.tracks.size(); ++t) {
      const auto& a = written.tracks[t].events;
      const auto& b = read->tracks[t].events;
      ASSERT_EQ(a.size(), b.size()) << seed;
      for (std::size_t i = 0; i < a.size(); ++i) {
        ASSERT_EQ(a[i].ticks, b[i].ticks) << seed;
        ASSERT_EQ(a[i].status, b[i].status) << seed;
        ASSERT_EQ(a[i].meta, b[i].meta) << seed;
        ASSERT_EQ(a[i].data, b[i].data) << seed;
      }
    }
  }
}

TEST(SmfRoundTrip, OutlivesAnyDamage) {
  for (std::uint32_t seed = 0; seed < 500; ++seed) {
    RandomFile random(seed);
    std::string bytes = format_smf(random.make());
    for (int i = 1 + random.below(8); i > 0; --i) {
      const auto at = static_cast<std::size_t>(random.below(static_cast<int>(bytes.size())));
      bytes[at] = static_cast<char>(random.below(256));
    }
    bytes.resize(bytes.size() - static_cast<std::size_t>(random.below(20)));
    const auto file = parse_smf(bytes, "r.mid");
    if (file.ok()) {
      EXPECT_TRUE(parse_smf(format_smf(*file), "again.mid").ok()) << seed;
    } else {
      EXPECT_FALSE(file.error().message.empty());
    }
    const auto score = parse_smf_score(bytes, "r.mid");
    if (!score.ok()) continue;
    Tick at = 0;
    for (const Bar& bar : score->score.bars) {
      EXPECT_EQ(bar.start, at) << seed;
      at += bar.length;
    }
    EXPECT_EQ(score->score.length, at) << seed;
    for (const Note& note : score->score.notes) {
      EXPECT_GT(note.length, 0) << seed;
      EXPECT_GE(note.onset, 0) << seed;
      EXPECT_LT(note.onset, at) << seed;
      EXPECT_LT(note.voice, score->score.voices) << seed;
    }
  }
}

}  // namespace
}  // namespace loftbeat::music
