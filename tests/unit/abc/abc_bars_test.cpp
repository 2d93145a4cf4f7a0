// Bars of ABC: lines, repeats, endings, upbeats, metres that change, jumps.

#include <gtest/gtest.h>

#include "abc_piece.h"

namespace loftbeat::music {
namespace {

using namespace abc;
using Ints = std::vector<int>;
using Strings = std::vector<std::string>;

// The letters of the notes in the order of playing.
std::string played(const std::string& body) {
  std::string letters;
  for (const int pitch : pitches(score(tune(body)))) letters += "C D EF G A B"[pitch % 12];
  return letters;
}

// Source: ABC 2.1, sections 4.8 to 4.10.
TEST(AbcRepeats, ArePlayed) {
  EXPECT_EQ(played("|: C4 | D4 :| E4 |]"), "CDCDE");
  EXPECT_EQ(played("C4 :| D4 |: E4 :|"), "CCDEE");
  EXPECT_EQ(played("C4 :: D4 :: E4 :|"), "CCDDEE");
  EXPECT_EQ(played("C4 :||: D4 :|"), "CCDD");
  EXPECT_EQ(played("C4 :|: D4 :|]"), "CCDD");
  EXPECT_EQ(played("|:: C4 ::| D4 |"), "CCCD");
  EXPECT_EQ(played("|: C4 \n :| \n |: D4 \n :|"), "CCDD");
}

TEST(AbcRepeats, TakeTheirEndings) {
  EXPECT_EQ(played("|: C4 |1 D4 :|2 E4 | F4 |]"), "CDCEF");
  EXPECT_EQ(played("|: C4 | [1 D4 :| [2 E4 |] F4 |]"), "CDCEF");
  EXPECT_EQ(played("|: C4 |1,3 D4 :|2 E4 :|4 F4 |]"), "CDCECDCF");
  EXPECT_EQ(played("|: C4 |[1-3 D4 :|[4 E4 |]"), "CDCDCDCE");
  EXPECT_EQ(played("C4 |1 D4 | E4 :|2 F4 | G4 |]"), "CDECFG");
}

TEST(AbcRepeats, InAnyVoiceHoldForAll) {
  const Score s = score(tune("V:1\n|: C4 :|\nV:2\nE4 |\n", "%%score 1 2\n"));
  EXPECT_EQ(pitches(s), (Ints{60, 64, 60, 64}));
}

// Common practice, no source: D.C. goes back once, and Fine then ends.
TEST(AbcJumps, AreTaken) {
  EXPECT_EQ(played("C4 | !fine!D4 | E4 !D.C.! |]"), "CDECD");
  EXPECT_EQ(played("C4 | !segno!D4 | E4 !fine! | F4 !D.S.!|]"), "CDEFDE");
  EXPECT_EQ(played("C4 | D4 !coda! | E4 !D.C.alcoda! | !coda!F4 |]"), "CDECDF");
  EXPECT_EQ(played("C4 | D4 |] !D.C.!"), "CDCD");
}

TEST(AbcBars, CountFromTheUpbeat) {
  const Score s = score(tune("C | D4 | E4 | F3 |]"));
  EXPECT_EQ(bar_numbers(s), (Strings{"0", "1", "2", "3"}));
  EXPECT_TRUE(s.bars[0].pickup);
  EXPECT_FALSE(s.bars[3].pickup);
  EXPECT_EQ(beat_in_bar(s, 0, kTicksPerQuarter), 4.0);
  EXPECT_EQ(bar_numbers(score(tune("D4 | E4 |]"))), (Strings{"1", "2"}));
}

TEST(AbcBars, DividedAtALineEndAreOne) {
  const Score s = score(tune("C | D4 | E3 ||\nF | G4 | A3 |]"));
  EXPECT_EQ(bar_numbers(s), (Strings{"0", "1", "2", "2", "3", "4"}));
  const Score through = score(tune("C | D4 | E3\nF | G4 | A3 |]"));
  EXPECT_EQ(bar_numbers(through), (Strings{"0", "1", "2", "3", "4"}));
}

TEST(AbcBars, AreNotMadeByBarLinesAlone) {
  EXPECT_EQ(score(tune("[| || C4 | | |] [|] .| D4 ||")).bars.size(), 2u);
}

TEST(AbcMetreChanges, ActFromTheirBarOn) {
  const Score s = score(tune("C4 | [M:3/4] D3 | [M:none] E5 | [M:2/2] F4 |"));
  ASSERT_EQ(s.bars.size(), 4u);
  const int beats[] = {4, 3, 5, 2};
  for (std::size_t i = 0; i < 4; ++i) EXPECT_EQ(s.bars[i].beats, beats[i]);
  EXPECT_EQ(s.bars[2].length, 5 * kTicksPerQuarter);
}

TEST(AbcMetreChanges, OfOneVoiceHoldForTheBarsOfAll) {
  const Score s = score(tune("V:1\nC4 | [M:3/4] D3 |\nV:2\nE4 | F3 |\n", "%%score 1 2\n"));
  EXPECT_EQ(s.bars[1].beats, 3);
  EXPECT_EQ(s.length, 7 * kTicksPerQuarter);
}

TEST(AbcMetreChanges, BeforeAnyVoiceIsChosenHoldForAll) {
  const Score s = score(tune("[M:3/4]\n[V:1] Z | C3 |\n[V:2] E3 | F3 |\n", "V:1\nV:2\n"));
  EXPECT_EQ(s.length, 6 * kTicksPerQuarter);
}

TEST(AbcUnmeasured, BarsAreAsLongAsWritten) {
  const Score s = score(tune("C D E F G2 | A B C4 |]", "M:none\n"));
  ASSERT_EQ(s.bars.size(), 2u);
  EXPECT_EQ(s.bars[0].beats, 6);
  EXPECT_FALSE(s.bars[0].pickup);
  EXPECT_EQ(s.bars[1].start, 6 * kTicksPerQuarter);
}

TEST(AbcBars, ThatHoldTooMuchAreTold) {
  const ReadScore r = read(tune("C4 | D4 E | F4 |"));
  ASSERT_EQ(r.notices.size(), 1u);
  EXPECT_NE(r.notices[0].message.find("bar 2 holds 5"), std::string::npos);
}

}  // namespace
}  // namespace loftbeat::music
