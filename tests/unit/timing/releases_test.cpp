#include "timing/releases.h"

#include <gtest/gtest.h>

#include "scene.h"

namespace loftbeat::timing {
namespace {

Scene one_verse() {
  Scene made = scene({4, 8, 0, 4});
  add_pass(made, "1", [](int chord) { return 1.0 * chord; });
  return made;
}

Releases releases(const Scene& made) { return made.measure().passes[0].releases; }

TEST(Releases, CleanPlayingHasNoSmear) {
  const Releases clean = releases(one_verse());
  EXPECT_EQ(clean.smears, 0);
  EXPECT_FALSE(clean.smear_ms);
  EXPECT_NEAR(*clean.together_ms, 0, 1e-6);
}

TEST(Releases, KeyHeldIntoTheNextChordIsASmear) {
  Scene made = one_verse();
  key(made, 0, 9, 1).off = instant_from_seconds(10.08);
  const Releases found = releases(made);
  EXPECT_EQ(found.smears, 1);
  EXPECT_NEAR(*found.smear_ms, 80, 1e-6);
  ASSERT_EQ(found.smear_at.size(), 1u);
  EXPECT_EQ(found.smear_at[0], 10 * kTicksPerQuarter);
}

TEST(Releases, LegatoOverlapWithinTheToleranceIsNone) {
  Scene made = one_verse();
  key(made, 0, 9, 1).off = instant_from_seconds(10.05);
  EXPECT_EQ(releases(made).smears, 0);
}

TEST(Releases, FeetThatComeLateDoNotSmearForIt) {
  Scene made = one_verse();
  for (int chord = 0; chord < 32; ++chord) {
    key(made, 0, chord, 3).on += std::chrono::milliseconds(80);
    key(made, 0, chord, 3).off += std::chrono::milliseconds(80);
  }
  EXPECT_EQ(releases(made).smears, 0);
}

TEST(Releases, LastChordHeldIntoTheNextVerseIsASmear) {
  Scene made = one_verse();
  add_pass(made, "2", [](int chord) { return 33.0 + chord; });
  key(made, 0, 31, 2).off = instant_from_seconds(33.1);
  EXPECT_EQ(releases(made).smears, 1);
}

TEST(Releases, VoicesThatLeaveApartAreMeasured) {
  Scene made = one_verse();
  key(made, 0, 15, 0).off = instant_from_seconds(15.80);
  key(made, 0, 31, 0).off = instant_from_seconds(31.80);
  // Others leave at 15.98 and at 31.90: 180 and 100 ms, median 140.
  EXPECT_NEAR(*releases(made).together_ms, 140, 1e-3);
}

TEST(Releases, RepeatedTuneNotesHeldOnAreCounted) {
  Scene made = scene({4, 8, 0, 4});
  for (music::Note& note : made.score.notes)
    if (note.voice == 0 && note.onset < 4 * kTicksPerQuarter) note.pitch = 71;
  add_pass(made, "1", [](int chord) { return 1.0 * chord; });
  made.alignment.held.push_back({0, 2 * 4 + 3});  // the tune's note of chord 2
  const Releases found = releases(made);
  EXPECT_EQ(found.repeats, 3);
  EXPECT_EQ(found.repeats_unstruck, 1);
}

TEST(Releases, SustainPedalIsReportedAsShareOfTheTime) {
  Scene made = one_verse();
  made.take.sustain.push_back({instant_from_seconds(0), instant_from_seconds(15.95)});
  EXPECT_NEAR(*releases(made).sustain_share, 0.5, 1e-6);  // the pass sounds for 31.9 s
}

}  // namespace
}  // namespace loftbeat::timing
