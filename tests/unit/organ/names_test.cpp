#include <gtest/gtest.h>

#include "organ/organ.h"

namespace loftbeat::organ {
namespace {

TEST(Names, KeysAreWrittenAsTheyAreRead) {
  for (int key = 0; key < 128; ++key) EXPECT_EQ(key_from_text(key_text(key)), key);
  EXPECT_EQ(key_text(36), "C2");
  EXPECT_EQ(key_text(66), "F#4");
}

TEST(Names, KeysOfTheKeyboard) {
  EXPECT_EQ(key_from_text("C4"), 60);
  EXPECT_EQ(key_from_text("c4"), 60);
  EXPECT_EQ(key_from_text("F#4"), 66);
  EXPECT_EQ(key_from_text("Bb3"), 58);
  EXPECT_EQ(key_from_text("C-1"), 0);
  EXPECT_EQ(key_from_text("G9"), 127);
  EXPECT_EQ(key_from_text("60"), 60);
  for (const char* wrong :
       {"", "H4", "C", "C44", "G#9", "Cb-1", "128", "-1", "C4 ", "C##4", "#4"}) {
    EXPECT_EQ(key_from_text(wrong), std::nullopt) << wrong;
  }
}

TEST(Names, FootPitches) {
  EXPECT_EQ(feet_from_text("8"), 8);
  EXPECT_EQ(feet_from_text("8'"), 8);
  EXPECT_NEAR(*feet_from_text("2 2/3"), 8.0 / 3, 1e-12);
  EXPECT_NEAR(*feet_from_text("1 3/5"), 1.6, 1e-12);
  EXPECT_NEAR(*feet_from_text("2/3"), 2.0 / 3, 1e-12);
  for (const char* wrong :
       {"", "0", "-8", "8 8", "2 2/0", "a", "2 3/2", "1/100", "129", "2  2/3"}) {
    EXPECT_EQ(feet_from_text(wrong), std::nullopt) << wrong;
  }
}

TEST(Names, OctavesBetweenAStopAndItsRank) {
  EXPECT_EQ(octaves_up(2, 4), 1);
  EXPECT_EQ(octaves_up(16, 8), -1);
  EXPECT_EQ(octaves_up(8.0 / 3, 8.0 / 3), 0);
  EXPECT_EQ(octaves_up(4.0 / 3, 8.0 / 3), 1);
  EXPECT_EQ(octaves_up(8.0 / 3, 4), std::nullopt);
  EXPECT_EQ(octaves_up(0, 8), 0);  // a mixture
}

}  // namespace
}  // namespace loftbeat::organ
