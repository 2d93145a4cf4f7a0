// What the file must be by SoundFont 2.04, read back here byte by byte.

#include "pipes/soundfont.h"

#include <gtest/gtest.h>

#include <map>
#include <string>
#include <vector>

#include "pipes/zones.h"
#include "recipe_fixture.h"

namespace loftbeat::pipes {
namespace {

// Source of what is checked: SoundFont technical specification 2.04, sections 4 to 8.

unsigned number(const std::string& bytes, std::size_t at, int width) {
  unsigned value = 0;
  for (int i = width - 1; i >= 0; --i)
    value = value << 8U | static_cast<unsigned char>(bytes[at + static_cast<std::size_t>(i)]);
  return value;
}

// Chunks of a list by name, in order.
std::vector<std::pair<std::string, std::string>> chunks(const std::string& bytes, std::size_t at) {
  std::vector<std::pair<std::string, std::string>> found;
  while (at + 8 <= bytes.size()) {
    const std::size_t size = number(bytes, at + 4, 4);
    if (at + 8 + size > bytes.size()) break;
    std::string name = bytes.substr(at, 4);
    if (name == "LIST") name = bytes.substr(at + 8, 4);
    found.emplace_back(name, bytes.substr(at + 8, size));
    at += 8 + size + size % 2;
  }
  EXPECT_EQ(at, bytes.size());
  return found;
}

Recipes small() {
  auto recipes = parse_recipes(kSmallFile, "small.toml");
  EXPECT_TRUE(recipes.ok());
  return std::move(*recipes);
}

class Built : public testing::Test {
 protected:
  static void SetUpTestSuite() {
    auto built = build_soundfont(small(), {});
    ASSERT_TRUE(built.ok());
    bytes_ = std::move(*built);
    for (auto& [name, text] : chunks(bytes_, 12)) {
      order_.push_back(name);
      for (auto& [inner, contents] : chunks(text, 4)) {
        part_[inner] = contents;
        if (name == "pdta") records_.push_back(inner);
      }
    }
  }
  static std::string bytes_;
  static std::vector<std::string> order_;
  static std::vector<std::string> records_;
  static std::map<std::string, std::string> part_;
};
std::string Built::bytes_;
std::vector<std::string> Built::order_;
std::vector<std::string> Built::records_;
std::map<std::string, std::string> Built::part_;

TEST_F(Built, IsARiffFileWithTheThreeListsAndNineRecordLists) {
  EXPECT_EQ(bytes_.substr(0, 4), "RIFF");
  EXPECT_EQ(number(bytes_, 4, 4) + 8, bytes_.size());
  EXPECT_EQ(bytes_.substr(8, 4), "sfbk");
  EXPECT_EQ(order_, (std::vector<std::string>{"INFO", "sdta", "pdta"}));
  EXPECT_EQ(records_, (std::vector<std::string>{"phdr", "pbag", "pmod", "pgen", "inst", "ibag",
                                                "imod", "igen", "shdr"}));
  EXPECT_EQ(number(part_["ifil"], 0, 2), 2U);
  EXPECT_EQ(number(part_["ifil"], 2, 2), 4U);
  for (const char* text : {"isng", "INAM", "ISFT", "ICMT"}) {
    EXPECT_EQ(part_[text].size() % 2, 0U) << text;
    EXPECT_EQ(part_[text].back(), '\0') << text;
  }
  const std::map<std::string, std::size_t> widths = {{"phdr", 38}, {"pbag", 4},  {"pmod", 10},
                                                     {"pgen", 4},  {"inst", 22}, {"ibag", 4},
                                                     {"imod", 10}, {"igen", 4},  {"shdr", 46}};
  for (const auto& [name, width] : widths) EXPECT_EQ(part_[name].size() % width, 0U) << name;
  EXPECT_EQ(part_["phdr"].size() / 38, 3U);  // two ranks and the end
  EXPECT_EQ(part_["shdr"].size() / 46, 2 * zones().size() + 1);
}

TEST_F(Built, KeepsTheDistancesOfSamplesAndLoops) {
  const std::string& shdr = part_["shdr"];
  const std::string& points = part_["smpl"];
  std::size_t before = 0;
  for (std::size_t at = 0; at + 46 < shdr.size(); at += 46) {
    const std::size_t start = number(shdr, at + 20, 4);
    const std::size_t end = number(shdr, at + 24, 4);
    const std::size_t loop = number(shdr, at + 28, 4);
    const std::size_t loop_end = number(shdr, at + 32, 4);
    EXPECT_EQ(start, before);
    EXPECT_LT(start + 7, loop);
    EXPECT_LT(loop + 31, loop_end);
    EXPECT_LT(loop_end + 7, end);
    EXPECT_EQ(number(shdr, at + 36, 4), 48000U);
    EXPECT_LE(number(shdr, at + 40, 1), 127U);
    EXPECT_EQ(number(shdr, at + 44, 2), 1U);
    EXPECT_EQ(shdr[at + 19], '\0');
    ASSERT_LE(2 * (end + 46), points.size());
    for (std::size_t i = end; i < end + 46; ++i) EXPECT_EQ(number(points, 2 * i, 2), 0U);
    before = end + 46;
  }
  EXPECT_EQ(2 * before, points.size());
}

TEST_F(Built, GivesEveryKeyOneZoneInTheOrderOfTheRules) {
  const std::string& ibag = part_["ibag"];
  const std::string& igen = part_["igen"];
  const std::size_t first = number(part_["inst"], 20, 2);
  const std::size_t next = number(part_["inst"], 22 + 20, 2);
  EXPECT_EQ(first, 0U);
  ASSERT_EQ(next, 1U + static_cast<unsigned>(kKeyCount));
  unsigned key = kLowestKey;
  for (std::size_t bag = first + 1; bag < next; ++bag, ++key) {
    std::size_t at = number(ibag, 4 * bag, 2);
    const std::size_t end = number(ibag, 4 * (bag + 1), 2);
    ASSERT_LT(at, end);
    EXPECT_EQ(number(igen, 4 * at, 2), 43U);  // keyRange first
    EXPECT_EQ(number(igen, 4 * at + 2, 2), key * 0x101U);
    EXPECT_EQ(number(igen, 4 * (end - 1), 2), 53U);                  // sampleID last
    for (; at < end; ++at) EXPECT_NE(number(igen, 4 * at, 2), 48U);  // no initialAttenuation
  }
  // Four implicit modulators cancelled in the global zone.
  EXPECT_EQ(number(ibag, 4 + 2, 2), 4U);
  for (std::size_t i = 0; i < 4; ++i) EXPECT_EQ(number(part_["imod"], 10 * i + 4, 2), 0U);
}

TEST_F(Built, ComesOutTheSameEveryTime) {
  std::size_t told = 0;
  std::size_t last = 0;
  const auto again = build_soundfont(small(), [&](std::size_t done, std::size_t total) {
    ++told;
    last = done;
    EXPECT_EQ(total, 2 * zones().size());
  });
  ASSERT_TRUE(again.ok());
  EXPECT_EQ(*again, bytes_);
  EXPECT_EQ(told, 2 * zones().size());
  EXPECT_EQ(last, told);
}

TEST(BuildSoundfont, RefusesARankBeyondFullScale) {
  Recipes recipes = small();
  recipes.ranks[1].power_db = 115;
  recipes.ranks[1].power_per_octave_db = 0;
  const auto built = build_soundfont(recipes, {});
  ASSERT_FALSE(built.ok());
  EXPECT_NE(to_string(built.error()).find("plain-8"), std::string::npos);
}

}  // namespace
}  // namespace loftbeat::pipes
