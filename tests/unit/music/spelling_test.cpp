#include "music/musicxml_spelling.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <numeric>
#include <string_view>

namespace loftbeat::music {
namespace {

std::string name(const SpelledPitch& p) {
  const std::string sign(static_cast<std::size_t>(std::abs(p.alter)), p.alter < 0 ? 'b' : '#');
  return p.step + sign + std::to_string(p.octave);
}

int sounding(const SpelledPitch& p) {
  constexpr std::string_view kSteps = "C D EF G A B";
  return 12 * (p.octave + 1) + static_cast<int>(kSteps.find(p.step)) + p.alter;
}

// The scales are those of any primer of music; the chromatic degrees are common practice, no
// source.
TEST(Spelling, GoesByTheKey) {
  EXPECT_EQ(name(spell(60, 0)), "C4");
  EXPECT_EQ(name(spell(66, 0)), "F#4");
  EXPECT_EQ(name(spell(68, 0)), "G#4");  // the leading note of A minor
  EXPECT_EQ(name(spell(70, 0)), "Bb4");
  EXPECT_EQ(name(spell(66, -5)), "Gb4");
  EXPECT_EQ(name(spell(59, -6)), "Cb4");
  EXPECT_EQ(name(spell(60, 7)), "B#3");
  EXPECT_EQ(name(spell(63, 4)), "D#4");
}

RC_GTEST_PROP(Spelling, SoundsAsItShould, ()) {
  const int pitch = *rc::gen::inRange(0, 128);
  const int fifths = *rc::gen::inRange(-7, 8);
  const SpelledPitch p = spell(pitch, fifths);
  RC_ASSERT(sounding(p) == pitch);
  RC_ASSERT(p.octave >= 0 && p.octave <= 10);
}

TEST(Spelling, MajorScalesUseEachLetterOnceWithTheirSignature) {
  for (int fifths = -7; fifths <= 7; ++fifths) {
    std::string letters;
    int signs = 0;
    for (const int degree : {0, 2, 4, 5, 7, 9, 11}) {
      const SpelledPitch p = spell(60 + ((7 * fifths) % 12 + 12) % 12 + degree, fifths);
      letters += p.step;
      signs += p.alter;
    }
    std::sort(letters.begin(), letters.end());
    EXPECT_EQ(letters, "ABCDEFG") << fifths;
    EXPECT_EQ(signs, fifths);
  }
}

TEST(NoteValues, AreNamed) {
  const auto named = [](Tick length) {
    const auto value = note_value(length);
    if (!value) return std::string("none");
    return std::string(value->type) + std::string(static_cast<std::size_t>(value->dots), '.') +
           (value->actual > 1 ? " " + std::to_string(value->actual) : "");
  };
  EXPECT_EQ(named(kTicksPerQuarter), "quarter");
  EXPECT_EQ(named(kTicksPerQuarter * 3), "half.");
  EXPECT_EQ(named(kTicksPerQuarter * 7 / 2), "half..");
  EXPECT_EQ(named(kTicksPerQuarter / 3), "eighth 3");
  EXPECT_EQ(named(kTicksPerQuarter / 5), "16th 5");
  EXPECT_EQ(named(kTicksPerQuarter / 7), "16th 7");
  EXPECT_EQ(named(kTicksPerQuarter * 5 / 2), "none");
  EXPECT_EQ(named(1), "none");
}

RC_GTEST_PROP(NoteValues, PiecesAddUpAndStayOnTheGrain, ()) {
  const Tick grain = *rc::gen::element<Tick>(1, 35, 315, 630, 1260, 1680, 2016, 2520, 5040, 10080);
  const Tick length = grain * *rc::gen::inRange<Tick>(1, 300);
  const auto pieces = written_pieces(length, grain);
  RC_ASSERT(std::accumulate(pieces.begin(), pieces.end(), Tick{0}) == length);
  for (const Tick piece : pieces) {
    RC_ASSERT(piece > 0);
    RC_ASSERT(piece % grain == 0);
  }
}

}  // namespace
}  // namespace loftbeat::music
