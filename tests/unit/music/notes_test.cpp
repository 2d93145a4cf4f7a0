// Notes of MusicXML: what sounds, when and how long. Expected values follow from the element
// definitions of the MusicXML 4.0 reference (W3C community group report, June 2021).

#include "xml_piece.h"

namespace loftbeat::music {
namespace {

using namespace xml;
using Sounds = std::vector<Sound>;

TEST(MusicXmlNotes, FollowEachOther) {
  const Score s =
      score(document(part(bar(start() + note("C4", 2) + note("D4", 1) + note("E4", 5)))));
  EXPECT_EQ(sounds(s), (Sounds{{0, 1, 60}, {1, 0.5, 62}, {1.5, 2.5, 64}}));
  EXPECT_EQ(s.length, 4 * kTicksPerQuarter);
}

TEST(MusicXmlNotes, AreAlteredByWholeAndBrokenSemitones) {
  const auto altered = [](const std::string& alter) {
    return "<note><pitch><step>B</step><alter>" + alter +
           "</alter><octave>3</octave></pitch><duration>2</duration></note>";
  };
  const Score s = score(document(
      part(bar(start() + altered("1") + altered("-2") + altered("0.9") + altered("-1.2")))));
  ASSERT_EQ(s.notes.size(), 4u);
  EXPECT_EQ(s.notes[0].pitch, 60);
  EXPECT_EQ(s.notes[1].pitch, 57);
  EXPECT_EQ(s.notes[2].pitch, 60);
  EXPECT_EQ(s.notes[3].pitch, 58);
}

TEST(MusicXmlNotes, OfAChordBeginTogetherAndDoNotMoveOn) {
  const Score s = score(document(
      part(bar(start() + note("C4", 4) + chord("E4", 2) + chord("G4", 4) + note("D4", 4)))));
  EXPECT_EQ(sounds(s), (Sounds{{0, 2, 60}, {0, 1, 64}, {0, 2, 67}, {2, 2, 62}}));
}

TEST(MusicXmlNotes, BackupAndForwardMoveTheCursor) {
  const Score s =
      score(document(part(bar(start() + note("C5", 8) + backup(8) + forward(2) +
                              voice_note("E4", 2, "2") + forward(2) + voice_note("F4", 2, "2")))));
  EXPECT_EQ(sounds(s), (Sounds{{0, 4, 72}, {1, 1, 64}, {3, 1, 65}}));
}

TEST(MusicXmlNotes, GraceCueAndUnpitchedAreLeftOut) {
  const std::string grace = "<note><grace/><pitch><step>A</step><octave>4</octave></pitch></note>";
  const std::string grace_chord =
      "<note><grace/><chord/><pitch><step>C</step><octave>5</octave></pitch></note>";
  Extra cue;
  cue.before = "<cue/>";
  const std::string drum = "<note><unpitched/><duration>2</duration><instrument id=\"x\"/></note>";
  const Score s = score(document(part(bar(start() + grace + grace_chord + note("C4", 2) +
                                          note("D4", 2, cue) + drum + note("E4", 2)))));
  EXPECT_EQ(sounds(s), (Sounds{{0, 1, 60}, {3, 1, 64}}));
}

TEST(MusicXmlNotes, DivisionsMayChangeAnywhere) {
  const std::string thirds = "<attributes><divisions>3</divisions></attributes>";
  const Score s =
      score(document(part(bar(start() + note("C4", 2) + thirds + note("D4", 1) + note("E4", 1) +
                              note("F4", 1) + backup(6) + voice_note("C3", 12, "2")))));
  EXPECT_EQ(sounds(s), (Sounds{{0, 4, 48},
                               {0, 1, 60},
                               {1, 1.0 / 3, 62},
                               {4.0 / 3, 1.0 / 3, 64},
                               {5.0 / 3, 1.0 / 3, 65}}));
}

TEST(MusicXmlNotes, DecimalDurationsAreExact) {
  const std::string half =
      "<note><pitch><step>C</step><octave>4</octave></pitch><duration>1.5</duration></note>";
  const Score s = score(document(part(bar(start() + half + half + note("E4", 5)))));
  EXPECT_EQ(sounds(s), (Sounds{{0, 0.75, 60}, {0.75, 0.75, 60}, {1.5, 2.5, 64}}));
}

TEST(MusicXmlNotes, SevenDivisionsNeverDrift) {
  // 7 divisions to the quarter are no whole ticks each over 9: rounding must not add up.
  std::string notes;
  for (int i = 0; i < 4 * 11; ++i) notes += note("C4", 1);
  const Score s = score(document(part(bar(start("", 4, 11) + notes))));
  ASSERT_EQ(s.notes.size(), 44u);
  EXPECT_EQ(s.length, 4 * kTicksPerQuarter);
  for (std::size_t i = 0; i < 44; ++i) {
    EXPECT_NEAR(quarters(s.notes[i].onset), static_cast<double>(i) / 11.0, 0.5 / 10080.0);
  }
}

TEST(MusicXmlNotes, TransposingPartsSound) {
  const auto sounding = [](const std::string& transpose) {
    return sounds(score(
        document(part(bar(start("<transpose>" + transpose + "</transpose>") + note("C5", 8))))));
  };
  EXPECT_EQ(sounding("<diatonic>-1</diatonic><chromatic>-2</chromatic>"), (Sounds{{0, 4, 70}}));
  EXPECT_EQ(sounding("<chromatic>-9</chromatic><octave-change>-1</octave-change>"),
            (Sounds{{0, 4, 51}}));
  EXPECT_EQ(sounding("<chromatic>0</chromatic><double/>"), (Sounds{{0, 4, 60}, {0, 4, 72}}));
  EXPECT_EQ(sounding("<chromatic>0</chromatic><double above=\"yes\"/>"),
            (Sounds{{0, 4, 72}, {0, 4, 84}}));
}

TEST(MusicXmlNotes, TranspositionOfOneStaffLeavesTheOtherAlone) {
  const std::string attributes =
      "<staves>2</staves><transpose number=\"2\"><chromatic>0</chromatic>"
      "<octave-change>-1</octave-change></transpose>";
  const Score s = score(document(part(bar(start(attributes) + voice_note("C5", 8, "1", 1) +
                                          backup(8) + voice_note("C4", 8, "2", 2)))));
  EXPECT_EQ(sounds(s), (Sounds{{0, 4, 48}, {0, 4, 72}}));
}

TEST(MusicXmlNotes, WithTimeOnlySoundInThatRepeatAlone) {
  const std::string second =
      "<note time-only=\"2\"><pitch><step>E</step><octave>4</octave></pitch>"
      "<duration>8</duration><voice>1</voice></note>";
  const std::string back = "<barline location=\"right\"><repeat direction=\"backward\"/></barline>";
  const Score s = score(document(part(bar(start() + note("C4", 8) + backup(8) + second + back))));
  EXPECT_EQ(sounds(s), (Sounds{{0, 4, 60}, {4, 4, 60}, {4, 4, 64}}));
}

TEST(MusicXmlNotes, PartsMayDifferInLength) {
  const ReadScore read =
      xml::read(document(part(bar(start() + note("C5", 8)) + bar(note("D5", 8))) +
                         part(bar(start() + note("C3", 8)))));
  EXPECT_EQ(sounds(read.score), (Sounds{{0, 4, 48}, {0, 4, 72}, {4, 4, 74}}));
  EXPECT_EQ(read.notices.size(), 1u);
  EXPECT_EQ(read.score.staves, 2);
}

}  // namespace
}  // namespace loftbeat::music
