// Bars of MusicXML: lengths, numbers, pickups, metres.

#include "xml_piece.h"

namespace loftbeat::music {
namespace {

using namespace xml;

std::string double_bar() {
  return "<barline location=\"right\"><bar-style>light-light</bar-style></barline>";
}

TEST(MusicXmlBars, PickupCountsBackFromItsEnd) {
  const Score s = score(
      document(part(bar(start() + note("G4", 2), "number=\"0\" implicit=\"yes\"") +
                    bar(note("C5", 8), "number=\"1\"") + bar(note("C5", 6), "number=\"2\""))));
  ASSERT_EQ(s.bars.size(), 3u);
  EXPECT_TRUE(s.bars[0].pickup);
  EXPECT_EQ(s.bars[0].number, "0");
  EXPECT_EQ(s.bars[0].length, kTicksPerQuarter);
  EXPECT_DOUBLE_EQ(beat_in_bar(s, 0, kTicksPerQuarter), 4.0);
  EXPECT_FALSE(s.bars[1].pickup);
  EXPECT_FALSE(s.bars[2].pickup);
  EXPECT_EQ(s.bars[2].length, 3 * kTicksPerQuarter);
  EXPECT_EQ(s.length, 8 * kTicksPerQuarter);
}

TEST(MusicXmlBars, ShortFirstBarIsAPickupEvenIfTheFileForgetsToSaySo) {
  const std::string rest = bar(note("C5", 8), "number=\"2\"");
  const Score forgot = score(document(part(bar(start() + note("G4", 2), "number=\"1\"") + rest)));
  EXPECT_TRUE(forgot.bars[0].pickup);
  EXPECT_EQ(forgot.bars[0].number, "0");
  EXPECT_EQ(forgot.bars[1].number, "2");
  const Score denied =
      score(document(part(bar(start() + note("G4", 2), "number=\"1\" implicit=\"no\"") + rest)));
  EXPECT_FALSE(denied.bars[0].pickup);
  EXPECT_EQ(denied.bars[0].number, "1");
}

TEST(MusicXmlBars, SecondHalfOfADividedBarKeepsBeatAndNumber) {
  const Score s = score(document(part(bar(start() + note("C5", 8), "number=\"1\"") +
                                      bar(note("C5", 6) + double_bar(), "number=\"2\"") +
                                      bar(note("G4", 2), "number=\"X1\" implicit=\"yes\"") +
                                      bar(note("C5", 8), "number=\"3\""))));
  EXPECT_TRUE(s.bars[2].pickup);
  EXPECT_EQ(s.bars[2].number, "2");
  EXPECT_DOUBLE_EQ(beat_in_bar(s, 7 * kTicksPerQuarter, kTicksPerQuarter), 4.0);
}

TEST(MusicXmlBars, NoteLongerThanTheBarRingsOn) {
  // Voice 2 fills the bar of four; voice 1 holds six beats without a tie.
  const Score s =
      score(document(part(bar(start() + note("C5", 12) + backup(12) + voice_note("E4", 8, "2")) +
                          bar(forward(4) + note("D5", 4) + backup(8) + voice_note("F4", 8, "2")))));
  EXPECT_EQ(s.bars[0].length, 4 * kTicksPerQuarter);
  ASSERT_EQ(s.notes.size(), 4u);
  EXPECT_EQ(s.notes[1].pitch, 72);
  EXPECT_EQ(s.notes[1].length, 6 * kTicksPerQuarter);
}

TEST(MusicXmlBars, NoteRingingPastTheLastBarEndsWithIt) {
  const Score s =
      score(document(part(bar(start() + note("C5", 12) + backup(12) + voice_note("E4", 8, "2")))));
  for (const Note& n : s.notes) EXPECT_EQ(n.length, 4 * kTicksPerQuarter);
}

TEST(MusicXmlBars, OverfullBarIsAsLongAsItsNotes) {
  const Score s = score(document(part(bar(start() + note("C5", 8) + note("D5", 2)))));
  EXPECT_EQ(s.bars[0].length, 5 * kTicksPerQuarter);
}

TEST(MusicXmlBars, WholeBarRestsTakeTheMetresLengthAtMost) {
  const std::string rest = "<note><rest measure=\"yes\"/><duration>8</duration></note>";
  const std::string bare = "<note><rest measure=\"yes\"/></note>";
  const Score s = score(document(
      part(bar(start("", 3) + note("C5", 6)) + bar(rest) + bar(bare) + bar(note("C5", 6)))));
  for (const Bar& b : s.bars) EXPECT_EQ(b.length, 3 * kTicksPerQuarter);
}

TEST(MusicXmlBars, WholeBarRestDoesNotLengthenAPickup) {
  const std::string rest = "<note><rest measure=\"yes\"/><duration>8</duration></note>";
  const Score s = score(document(part(bar(start() + note("G4", 2)) + bar(note("C5", 8))) +
                                 part(bar(start() + rest) + bar(note("C3", 8)))));
  EXPECT_EQ(s.bars[0].length, kTicksPerQuarter);
  EXPECT_TRUE(s.bars[0].pickup);
}

TEST(MusicXmlBars, EmptyBarLastsAsItsMetre) {
  const Score s =
      score(document(part(bar(start("", 3) + note("C5", 6)) + bar("") + bar(note("D5", 6)))));
  EXPECT_EQ(s.bars[1].length, 3 * kTicksPerQuarter);
  EXPECT_EQ(s.bars[2].start, 6 * kTicksPerQuarter);
}

TEST(MusicXmlBars, WithoutMetreTheirLengthIsTheirMetre) {
  const std::string free =
      "<attributes><divisions>2</divisions><time><senza-misura/></time></attributes>";
  const Score s = score(document(part(bar(free + note("C5", 10)) + bar(note("C5", 7)))));
  EXPECT_EQ(s.bars[0].beats, 5);
  EXPECT_EQ(s.bars[0].beat_type, 4);
  EXPECT_EQ(s.bars[1].beats, 7);
  EXPECT_EQ(s.bars[1].beat_type, 8);
  EXPECT_FALSE(s.bars[1].pickup);
}

TEST(MusicXmlBars, AddedMetresAddUp) {
  const auto metre = [](const std::string& time) {
    const Score s = score(document(part(bar("<attributes><divisions>2</divisions><time>" + time +
                                            "</time></attributes>" + note("C5", 10)))));
    return std::pair(s.bars.at(0).beats, s.bars.at(0).beat_type);
  };
  EXPECT_EQ(metre("<beats>3+2</beats><beat-type>8</beat-type>"), std::pair(5, 8));
  EXPECT_EQ(
      metre("<beats>3</beats><beat-type>4</beat-type><beats>3</beats><beat-type>8</beat-type>"),
      std::pair(9, 8));
}

TEST(MusicXmlBars, FollowEachOtherWithoutGapThroughRepeats) {
  const std::string back =
      "<barline location=\"right\"><repeat direction=\"backward\" times=\"3\"/></barline>";
  const Score s = score(document(part(bar(start() + note("C5", 8), "number=\"1\"") +
                                      bar(note("D5", 8) + back, "number=\"2\"") +
                                      bar(note("E5", 8), "number=\"3\""))));
  ASSERT_EQ(s.bars.size(), 7u);
  Tick end = 0;
  std::string numbers;
  for (const Bar& b : s.bars) {
    EXPECT_EQ(b.start, end);
    end += b.length;
    numbers += b.number;
  }
  EXPECT_EQ(numbers, "1212123");
  EXPECT_EQ(s.length, end);
}

}  // namespace
}  // namespace loftbeat::music
