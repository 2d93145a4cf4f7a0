// Notes of ABC: pitch, length, chords, ties, tuplets, broken rhythm, what is left out.

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include "abc_piece.h"

namespace loftbeat::music {
namespace {

using namespace abc;
using Doubles = std::vector<double>;
using Ints = std::vector<int>;

// Source: ABC 2.1, section 4.1: C is middle C, MIDI key 60.
TEST(AbcNotes, HaveTheirOctaves) {
  EXPECT_EQ(pitches(score(tune("C,, C, C c | c' c'' c', C'|"))),
            (Ints{36, 48, 60, 72, 84, 96, 72, 72}));
  EXPECT_EQ(pitches(score(tune("C D E F | G A B c|"))), (Ints{60, 62, 64, 65, 67, 69, 71, 72}));
}

// Source: ABC 2.1, section 4.3.
TEST(AbcNotes, HaveTheirLengths) {
  EXPECT_EQ(lengths(score(tune("C2 C/ C/2 C// C/4 C3/2 C3/4|"))),
            (Doubles{2, 0.5, 0.5, 0.25, 0.25, 1.5, 0.75}));
}

// Source: ABC 2.1, section 11.3: accidentals act in all octaves up to the bar line by default.
TEST(AbcNotes, KeepAccidentalsToTheBarLine) {
  EXPECT_EQ(pitches(score(tune("^F f =F f | F f ^^C __B |"))),
            (Ints{66, 78, 65, 77, 65, 77, 62, 69}));
  EXPECT_EQ(pitches(score(tune("^F f F f | F4 |", "I:propagate-accidentals octave\n"))),
            (Ints{66, 77, 66, 77, 65}));
  EXPECT_EQ(pitches(score(tune("^F F ^F F |", "%%propagate-accidentals not\n"))),
            (Ints{66, 65, 66, 65}));
}

TEST(AbcNotes, OfAChordKeepTheirLengthsAndTheVoiceGoesOnByTheFirst) {
  EXPECT_EQ(sounds(score(tune("[C2E4G] A B | [CE]/ [C/E/]2 z2|"))),
            (std::vector<Sound>{{0, 2, 60},
                                {0, 4, 64},
                                {0, 1, 67},
                                {2, 1, 69},
                                {3, 1, 71},
                                {4, 0.5, 60},
                                {4, 0.5, 64},
                                {4.5, 1, 60},
                                {4.5, 1, 64}}));
}

TEST(AbcNotes, TiedAreOne) {
  EXPECT_EQ(sounds(score(tune("C4- | C2 C- C | [CE]4- | [C-E]4 | C4 |"))),
            (std::vector<Sound>{{0, 6, 60}, {6, 2, 60}, {8, 12, 60}, {8, 8, 64}}));
}

// Common practice, no source: a tie carries its accidental over the bar line, and no further.
TEST(AbcNotes, TiedOverTheBarLineKeepTheirPitch) {
  EXPECT_EQ(sounds(score(tune("^F4- | F2 F2 |"))), (std::vector<Sound>{{0, 6, 66}, {6, 2, 65}}));
}

TEST(AbcNotes, TiedToAnotherPitchAreSlurred) {
  EXPECT_EQ(sounds(score(tune("C2- D2 | (E2 F2) |"))).size(), 4u);
}

TEST(AbcNotes, TiedBeforeTheEndingsLeadIntoEach) {
  EXPECT_EQ(sounds(score(tune("|: C4- |1 C4 :|2 C2 D2 |]"))),
            (std::vector<Sound>{{0, 8, 60}, {8, 6, 60}, {14, 2, 62}}));
}

// Source: ABC 2.1, section 4.13.
TEST(AbcNotes, OfTupletsSqueeze) {
  EXPECT_EQ(lengths(score(tune("(3CDE (2CD|"))), (Doubles{2. / 3, 2. / 3, 2. / 3, 1.5, 1.5}));
  EXPECT_EQ(lengths(score(tune("(3:2:2C2D (5::4CDEF G|"))),
            (Doubles{4. / 3, 2. / 3, 0.4, 0.4, 0.4, 0.4, 1}));
  EXPECT_EQ(lengths(score(tune("(5CDEFG|", "M:9/8\n"))), (Doubles(5, 0.6)));
  EXPECT_EQ(sounds(score(tune("(3zC[DF] G2|"))),
            (std::vector<Sound>{
                {2. / 3, 2. / 3, 60}, {4. / 3, 2. / 3, 62}, {4. / 3, 2. / 3, 65}, {2, 2, 67}}));
}

TEST(AbcNotes, OfUnevenTupletsEndWhereTheyShould) {
  const Score s = score(tune("(11:8:11CDEFGABcdef C |(13:8:13CDEFGABcdefga C|"));
  EXPECT_EQ(s.bars[0].length, 9 * kTicksPerQuarter);
  EXPECT_EQ(s.notes[11].onset, 8 * kTicksPerQuarter);
  EXPECT_EQ(s.length, 18 * kTicksPerQuarter);
}

// Source: ABC 2.1, section 4.4.
TEST(AbcNotes, OfBrokenRhythmTakeFromEachOther) {
  EXPECT_EQ(lengths(score(tune("C>D E<F | C>>D E2 | C >{g}[DF] z>C z/|"))),
            (Doubles{1.5, 0.5, 0.5, 1.5, 1.75, 0.25, 2, 1.5, 0.5, 0.5, 0.5}));
}

TEST(AbcNotes, OfOrnamentAreLeftOut) {
  EXPECT_EQ(sounds(score(tune("{Bc}C ~D .E !trill!F | \"Am\"uG vA !4!B \"^text | [x\"c |"))),
            sounds(score(tune("C D E F | G A B c |"))));
}

TEST(AbcNotes, OfTextsAreNoNotes) {
  EXPECT_EQ(sounds(score(tune(R"("a \"b\" c"C4 | "^back\slash\"D4|)"))),
            (std::vector<Sound>{{0, 4, 60}, {4, 4, 62}}));
}

TEST(AbcNotes, RestAsLongAsTheySay) {
  EXPECT_EQ(sounds(score(tune("z C x2 | Z2 | y C4 | X | C4|"))),
            (std::vector<Sound>{{1, 1, 60}, {12, 4, 60}, {20, 4, 60}}));
}

TEST(AbcNotes, OfAnOverlayBeginWithTheBar) {
  const Score s = score(tune("C4 | G4 & E2 D2 | C4 |"));
  EXPECT_EQ(sounds(s),
            (std::vector<Sound>{{0, 4, 60}, {4, 2, 64}, {4, 4, 67}, {6, 2, 62}, {8, 4, 60}}));
  EXPECT_EQ(s.voices, 2);
}

TEST(AbcNotes, SoundWhereClefOctaveAndTransposeSay) {
  EXPECT_EQ(pitches(score(tune("A4|", "K:C clef=treble-8\n"))), (Ints{57}));
  EXPECT_EQ(pitches(score(tune("A4|", "K:C treble+8\n"))), (Ints{81}));
  EXPECT_EQ(pitches(score(tune("A4|", "V:1 octave=-1 transpose=2\nK:C\n"))), (Ints{59}));
  EXPECT_EQ(pitches(score(tune("[V:1 clef=bass octave=1]A4|[K:octave=0] A4|"))), (Ints{81, 69}));
  EXPECT_EQ(pitches(score(tune("A4|", "K:C clef=bass middle=d\n"))), (Ints{69}));
}

// Whatever notes are written, they are read back: pitch as spelt, length as a fraction.
RC_GTEST_PROP(AbcNotesProperty, AreReadAsWritten, ()) {
  const auto count = *rc::gen::inRange(1, 40);
  std::string body;
  std::vector<Sound> expected;
  Tick at = 0;
  for (int i = 0; i < count; ++i) {
    constexpr int kSteps[] = {0, 2, 4, 5, 7, 9, 11};
    const auto letter = *rc::gen::inRange<std::size_t>(0, 7);
    const int octave = *rc::gen::inRange(-3, 4);
    const int alter = *rc::gen::inRange(-2, 3);
    const int over = *rc::gen::inRange(1, 9);
    const int power = *rc::gen::inRange(0, 5);
    constexpr const char* kAccidentals[] = {"__", "_", "=", "^", "^^"};
    body += kAccidentals[alter + 2];
    body += "CDEFGAB"[letter];
    body += std::string(static_cast<std::size_t>(std::abs(octave)), octave < 0 ? ',' : '\'');
    body += std::to_string(over) + std::string(static_cast<std::size_t>(power), '/') + " ";
    const Tick length = kTicksPerQuarter * over / (1 << power);
    expected.push_back({quarters(at), quarters(length), 60 + 12 * octave + kSteps[letter] + alter});
    at += length;
  }
  RC_ASSERT(sounds(score(tune(body, "M:none\n"))) == expected);
}

}  // namespace
}  // namespace loftbeat::music
