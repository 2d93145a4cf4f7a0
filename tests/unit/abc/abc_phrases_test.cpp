// Text, fermatas, breath marks and the play-over of ABC.

#include <gtest/gtest.h>

#include "abc_piece.h"

namespace loftbeat::music {
namespace {

using namespace abc;
using Doubles = std::vector<double>;

TEST(AbcLyrics, LinesEndWithTheLineOfText) {
  const Score s =
      score(tune("C | D E F G | A3\nw: one two three four five six\n"
                 "C | D E F G | A3 |]\nw: one two three four five six"));
  EXPECT_EQ(s.phrase_source, PhraseSource::lyric_lines);
  EXPECT_EQ(phrase_begins(s), (Doubles{0, 8}));
  EXPECT_EQ(s.lyric_verses, 1);
}

TEST(AbcLyrics, RunOnWhereAWordIsCutOrTheTextPlainlyDoes) {
  const std::string music = "C D E F | G4 |\n";
  EXPECT_EQ(phrase_begins(score(tune(
                music + "w: a mill- race runs for-\n" + music + "w: ev- er through the night,\n" +
                music + "w: And turns the wheel by\n" + music + "w: day and night.\n"))),
            (Doubles{0, 16}));
}

TEST(AbcLyrics, LinesEndWithinWhereAllVersesBeginAnew) {
  const Score s =
      score(tune("C D E F | C D E F |\nw: the mill is old, The wheel is new.\n"
                 "w: the night is long The Day will come.\nC D E F |\nw: a b c d\n"));
  EXPECT_EQ(phrase_begins(s), (Doubles{0, 4, 8}));
  const Score capitals =
      score(tune("C D E F | C D E F |\nw: the mill is old The Wheel is new.\n"
                 "w: the night is long The Day will come.\nC D E F |\nw: A b c d\n"));
  EXPECT_EQ(phrase_begins(capitals), (Doubles{0, 8}));
}

TEST(AbcLyrics, CountVersesByTheirNumbers) {
  EXPECT_EQ(score(tune("C D|\nw: a b\nw: c d\nw: e f\n")).lyric_verses, 3);
  EXPECT_EQ(score(tune("C D|\nw: 1.~a b\nw: 2.~c d\nw: 9.~e f\n")).lyric_verses, 9);
  EXPECT_EQ(score(tune("C D|\nw: 1.~a b\nw: 2.~c d\nW:3.And so\nW:on and on\nW:\nW: 4. and\n"))
                .lyric_verses,
            4);
  EXPECT_EQ(score(tune("C D|\nw: 1.~a b\nW: 1900. a year\nW: 7. a seventh\n")).lyric_verses, 1);
  EXPECT_EQ(score(tune("C D|\nw:\nw: * * \n")).lyric_verses, 0);
  EXPECT_EQ(score(tune("C D|\nC D|\nw: a b c d\n")).lyric_verses, 1);
}

// Source: ABC 2.1, section 5.1. The second line begins after the last syllable's notes.
TEST(AbcLyrics, SyllablesFallOnTheirNotes) {
  const auto begins = [](const std::string& text) {
    return phrase_begins(score(tune("C D E F | G A B c |\nw:" + text + "\nC4 |\nw: x\n")));
  };
  const std::string second = " a~b c\nw: A b";  // makes the note under B end a line
  EXPECT_EQ(begins("a b, C d\nw: a b C d"), (Doubles{0, 2, 8}));
  EXPECT_EQ(begins("a- b _ _ z, C\nw: a * * * z C"), (Doubles{0, 5, 8}));
  EXPECT_EQ(begins("a b, | C d\nw: a b | C d"), (Doubles{0, 4, 8}));
  EXPECT_EQ(begins("a~b, C d\nw: a C d"), (Doubles{0, 1, 8}));
  EXPECT_EQ(begins("a\\-b, C d\nw: a C d"), (Doubles{0, 1, 8}));
  EXPECT_EQ(begins("a- - b, C\nw: a- -b C"), (Doubles{0, 3, 8}));
}

TEST(AbcLyrics, GoOnInTheNextField) {
  EXPECT_EQ(phrase_begins(score(tune("C D E F |\nw: a b\n+: c d\nG4 |\nw: e\n"))), (Doubles{0, 4}));
}

TEST(AbcLyrics, TooLongForTheirLineAreTold) {
  const ReadScore r = read(tune("C D |\nw: a b c d\n"));
  ASSERT_EQ(r.notices.size(), 1u);
  EXPECT_EQ(r.notices[0].line, 7);
}

TEST(AbcFermatas, AreOneHoweverSpelt) {
  for (const char* name : {"fermata", "ferm", "invertedfermata", "Fermata"}) {
    const Score s = score(tune("C D E !" + std::string(name) + "!F | G A B c |"));
    ASSERT_EQ(s.fermatas.size(), 1u) << name;
    EXPECT_EQ(s.fermatas[0].at, 3 * kTicksPerQuarter);
    EXPECT_EQ(s.phrase_source, PhraseSource::fermatas);
    EXPECT_EQ(phrase_begins(s), (Doubles{0, 4}));
  }
}

TEST(AbcFermatas, StandOnChordsRestsAndBarLines) {
  EXPECT_EQ(phrase_begins(score(tune("!fermata![CE]2 D2 | E4 |"))), (Doubles{0, 2}));
  EXPECT_EQ(phrase_begins(score(tune("C2 !fermata!z2 | E4 |"))), (Doubles{0, 4}));
  EXPECT_EQ(phrase_begins(score(tune("C2 D2 !fermata!| E4 |"))), (Doubles{0, 4}));
  EXPECT_EQ(score(tune("+fermata+C4 | E4 |")).fermatas.size(), 1u);
}

TEST(AbcFermatas, OfAllVoicesAreOne) {
  const Score s =
      score(tune("V:1\nC D !fermata!E2 | F4 |\nV:2\nC D !ferm!E2 | F4 |\n", "%%score 1 2\n"));
  EXPECT_EQ(s.fermatas.size(), 1u);
}

TEST(AbcBreathMarks, EndPhrases) {
  for (const char* name : {"breath", "shortphrase", "mediumphrase", "longphrase"}) {
    const Score s = score(tune("C D !" + std::string(name) + "!E F | G4 |"));
    EXPECT_EQ(s.phrase_source, PhraseSource::breath_marks) << name;
    EXPECT_EQ(phrase_begins(s), (Doubles{0, 3})) << name;
  }
}

TEST(AbcDoubleBars, EndPhrasesWhereNothingElseDoes) {
  const Score s = score(tune("C4 || D4 |]"));
  EXPECT_EQ(s.phrase_source, PhraseSource::double_bars);
  EXPECT_EQ(phrase_begins(s), (Doubles{0, 4}));
}

TEST(AbcPlayOver, LiesBetweenItsSigns) {
  const Score s = score(tune("C4 | D2 !sintro!E2 | F4 | G2 A2 !eintro!| B4 |]"));
  ASSERT_TRUE(s.play_over);
  EXPECT_EQ(*s.play_over, (TickSpan{6 * kTicksPerQuarter, 16 * kTicksPerQuarter}));
  EXPECT_EQ(score(tune("!sintro!C4 | D4 !eintro!|]")).play_over,
            (TickSpan{0, 8 * kTicksPerQuarter}));
  EXPECT_EQ(score(tune("!sintro!C4 | D4 |] !eintro!")).play_over,
            (TickSpan{0, 8 * kTicksPerQuarter}));
  EXPECT_EQ(score(tune("!sintro!C2 !eintro!D2 | D4 |]")).play_over,
            (TickSpan{0, 2 * kTicksPerQuarter}));
}

TEST(AbcPlayOver, IsNotThereWithoutBothSigns) {
  EXPECT_FALSE(score(tune("C4 | D4 |]")).play_over);
  EXPECT_FALSE(score(tune("!sintro!C4 | D4 |]")).play_over);
  EXPECT_FALSE(score(tune("C4 !eintro!| D4 |]")).play_over);
  EXPECT_FALSE(score(tune("C4 !eintro!| !sintro!D4 |]")).play_over);
}

// As played: the first time through a repeat.
TEST(AbcPlayOver, CountsAsPlayed) {
  const Score s = score(tune("|: C4 | !sintro!D4 !eintro!:| E4 |]"));
  EXPECT_EQ(s.play_over, (TickSpan{4 * kTicksPerQuarter, 8 * kTicksPerQuarter}));
}

}  // namespace
}  // namespace loftbeat::music
