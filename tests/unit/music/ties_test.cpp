// Ties of MusicXML. Expected values follow from the definition of <tie>: sound, not drawing.

#include "xml_piece.h"

namespace loftbeat::music {
namespace {

using namespace xml;
using Sounds = std::vector<Sound>;

TEST(MusicXmlTies, MergeAcrossBars) {
  const Score s = score(document(part(bar(start() + note("D4", 4) + tied("C4", 4, "start")) +
                                      bar(tied("C4", 8, "stop start")) +
                                      bar(tied("C4", 2, "stop") + note("E4", 6)))));
  EXPECT_EQ(sounds(s), (Sounds{{0, 2, 62}, {2, 7, 60}, {9, 3, 64}}));
}

TEST(MusicXmlTies, StartWithoutStopIsAnOrdinaryNote) {
  const Score s = score(document(part(bar(start() + tied("C4", 4, "start") + note("C4", 4)))));
  EXPECT_EQ(sounds(s), (Sounds{{0, 2, 60}, {2, 2, 60}}));
}

TEST(MusicXmlTies, StopWithoutStartIsStruck) {
  const Score s = score(document(part(bar(start() + note("C4", 4) + tied("C4", 4, "stop")))));
  EXPECT_EQ(sounds(s), (Sounds{{0, 2, 60}, {2, 2, 60}}));
}

TEST(MusicXmlTies, CrossVoicesWhereTheirOwnHasNone) {
  const Score s =
      score(document(part(bar(start() + note("G4", 8) + backup(8) + tied("C4", 8, "start", "2")) +
                          bar(tied("C4", 8, "stop", "1") + backup(8) + voice_note("E3", 8, "2")))));
  EXPECT_EQ(sounds(s), (Sounds{{0, 8, 60}, {0, 4, 67}, {4, 4, 52}}));
}

TEST(MusicXmlTies, PreferTheirOwnVoice) {
  // Both voices hold middle C; only the second goes on in the third bar.
  const Score s = score(document(
      part(bar(start() + tied("C4", 8, "start", "1") + backup(8) + tied("C4", 8, "start", "2")) +
           bar(tied("C4", 8, "stop", "1") + backup(8) + tied("C4", 8, "stop start", "2")) +
           bar(note("G4", 8) + backup(8) + tied("C4", 8, "stop", "2")))));
  EXPECT_EQ(sounds(s), (Sounds{{0, 8, 60}, {0, 12, 60}, {8, 4, 67}}));
}

TEST(MusicXmlTies, AreReadWithinABarWhateverTheOrderOfVoices) {
  // The voice written first goes on what the voice written second began.
  const Score s =
      score(document(part(bar(start() + note("rest", 4) + tied("C4", 4, "stop", "1") + backup(8) +
                              tied("C4", 4, "start", "2") + voice_note("A3", 4, "2")))));
  EXPECT_EQ(sounds(s), (Sounds{{0, 4, 60}, {2, 2, 57}}));
}

TEST(MusicXmlTies, DrawnTiesCountWhereNoneSounds) {
  const Score s =
      score(document(part(bar(start() + with_notations("C4", 4, "<tied type=\"start\"/>") +
                              with_notations("C4", 4, "<tied type=\"stop\"/>")))));
  EXPECT_EQ(sounds(s), (Sounds{{0, 4, 60}}));
}

TEST(MusicXmlTies, ReachIntoEachEnding) {
  const std::string first =
      "<barline location=\"left\"><ending number=\"1\" type=\"start\"/></barline>";
  const std::string back =
      "<barline location=\"right\"><ending number=\"1\" type=\"stop\"/><repeat "
      "direction=\"backward\"/></barline>";
  const std::string second =
      "<barline location=\"left\"><ending number=\"2\" type=\"start\"/></barline>";
  const Score s = score(document(part(bar(start() + tied("C4", 8, "start")) +
                                      bar(first + tied("C4", 4, "stop") + note("D4", 4) + back) +
                                      bar(second + tied("C4", 8, "stop")))));
  EXPECT_EQ(sounds(s), (Sounds{{0, 6, 60}, {6, 2, 62}, {8, 8, 60}}));
}

TEST(MusicXmlTies, OfOnePartNeverJoinAnother) {
  const Score s = score(document(part(bar(start() + tied("C4", 8, "start")) + bar(note("D4", 8))) +
                                 part(bar(start() + note("E3", 8)) + bar(tied("C4", 8, "stop")))));
  EXPECT_EQ(sounds(s), (Sounds{{0, 4, 52}, {0, 4, 60}, {4, 4, 60}, {4, 4, 62}}));
}

}  // namespace
}  // namespace loftbeat::music
