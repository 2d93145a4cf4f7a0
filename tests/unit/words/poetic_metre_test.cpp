#include "music/poetic_metre.h"

#include <gtest/gtest.h>

#include <random>

namespace loftbeat::music {
namespace {

using Lines = std::vector<int>;

Lines lines_of(const std::string& text) {
  const auto metre = parse_poetic_metre(text);
  if (!metre) ADD_FAILURE() << text << " is not read";
  return metre ? metre->lines : Lines{};
}

// Source: common practice of hymn books, no source.
TEST(PoeticMetre, IsReadAsHymnBooksPrintIt) {
  for (const char* text :
       {"8.6.8.6", "86.86", "8 6 8 6", "86 86", "8686", "8,6,8,6.", "C.M.", "CM", "c. m.",
        "Common Metre", "Common Meter", "8.6.8.6 (C.M.)", "C.M. (8.6.8.6)", "(8.6.8.6)"}) {
    EXPECT_EQ(lines_of(text), (Lines{8, 6, 8, 6})) << text;
  }
  EXPECT_EQ(lines_of("L.M."), (Lines{8, 8, 8, 8}));
  EXPECT_EQ(lines_of("S.M."), (Lines{6, 6, 8, 6}));
  EXPECT_EQ(lines_of("10.10.10.10"), (Lines{10, 10, 10, 10}));
  EXPECT_EQ(lines_of("10 10 10 10"), (Lines{10, 10, 10, 10}));
  EXPECT_EQ(lines_of("11 11.12 11"), (Lines{11, 11, 12, 11}));
  EXPECT_EQ(lines_of("66.66.88"), (Lines{6, 6, 6, 6, 8, 8}));
}

TEST(PoeticMetre, ADoubledMetreHasAllItsLines) {
  const Lines twice = {8, 7, 8, 7, 8, 7, 8, 7};
  for (const char* text : {"8.7.8.7 D", "87.87.D", "8 7 8 7 D.", "8.7.8.7 doubled", "87 87 87 87"})
    EXPECT_EQ(lines_of(text), twice) << text;
  for (const char* text : {"C.M.D.", "D.C.M.", "CMD", "Common Metre Double", "8.6.8.6 D (C.M.D.)"})
    EXPECT_EQ(lines_of(text), (Lines{8, 6, 8, 6, 8, 6, 8, 6})) << text;
}

TEST(PoeticMetre, RefrainsAndIrregularOnesAreTold) {
  EXPECT_TRUE(parse_poetic_metre("8.7.8.7 with refrain")->refrain);
  EXPECT_TRUE(parse_poetic_metre("7.7.7.7 with Alleluias")->refrain);
  EXPECT_FALSE(parse_poetic_metre("8.7.8.7")->refrain);
  EXPECT_TRUE(parse_poetic_metre("Irregular")->lines.empty());
  EXPECT_TRUE(parse_poetic_metre("Irr.")->lines.empty());
}

TEST(PoeticMetre, OtherTextIsNone) {
  for (const char* text : {"",
                           " ",
                           "1529",
                           "1867.",
                           "Azmon",
                           "Hymn 163",
                           "163",
                           "8",
                           "8.1.8",
                           "8.17.8",
                           "Op. 8.6",
                           "8.6.8.6 of old",
                           "C.M. (8.8.8.8)",
                           "D",
                           "17.17",
                           "C",
                           "Metre",
                           "8.6.8.6!",
                           "LM88",
                           "273",
                           "66"})
    EXPECT_FALSE(parse_poetic_metre(text)) << text;
  EXPECT_FALSE(parse_poetic_metre(std::string(100'000, '8')));
  EXPECT_FALSE(
      parse_poetic_metre("8.8.8.8.8.8.8.8.8.8.8.8.8.8.8.8.8.8.8.8.8.8.8.8.8.8.8.8.8.8.8.8.8"));
}

TEST(PoeticMetre, IsPrintedAsHymnBooksDo) {
  EXPECT_EQ(format_poetic_metre({{8, 6, 8, 6}, false}), "8.6.8.6 (C.M.)");
  EXPECT_EQ(format_poetic_metre({{8, 8, 8, 8}, false}), "8.8.8.8 (L.M.)");
  EXPECT_EQ(format_poetic_metre({{6, 6, 8, 6}, true}), "6.6.8.6 (S.M.) with refrain");
  EXPECT_EQ(format_poetic_metre({{8, 8, 8, 8, 8, 8, 8, 8}, false}), "8.8.8.8 D (L.M.D.)");
  EXPECT_EQ(format_poetic_metre({{8, 7, 8, 7, 8, 7, 8, 7}, false}), "8.7.8.7 D");
  EXPECT_EQ(format_poetic_metre({{10, 4, 6, 6}, false}), "10.4.6.6");
  EXPECT_EQ(format_poetic_metre({{}, false}), "irregular");
}

TEST(PoeticMetre, WhatIsPrintedIsReadBack) {
  std::mt19937 random(3);
  for (int i = 0; i < 500; ++i) {
    PoeticMetre metre;
    const auto count = 2 + random() % 15;
    while (metre.lines.size() < count) metre.lines.push_back(2 + static_cast<int>(random() % 15));
    if (i % 3 == 0 && count <= 16) {
      const Lines once = metre.lines;
      metre.lines.insert(metre.lines.end(), once.begin(), once.end());
    }
    metre.refrain = i % 2 == 0;
    const std::string text = format_poetic_metre(metre);
    const auto back = parse_poetic_metre(text);
    ASSERT_TRUE(back) << text;
    EXPECT_EQ(*back, metre) << text;
  }
}

}  // namespace
}  // namespace loftbeat::music
