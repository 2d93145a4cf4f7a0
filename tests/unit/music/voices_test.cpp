// Numbering of voices from the top down; the rule is in musicxml_voices.h.

#include "xml_piece.h"

namespace loftbeat::music {
namespace {

using namespace xml;

const std::string kTwoStaves = "<staves>2</staves>";

Extra in(const std::string& voice, int staff) {
  Extra extra;
  extra.voice = voice;
  extra.staff = staff;
  return extra;
}

// By pitch: the voices of one chord, from the lowest note up.
TEST(MusicXmlVoices, OfFourSingleVoicesGoFromTheTop) {
  const Score s = score(document(part(bar(
      start(kTwoStaves) + voice_note("C5", 8, "1", 1) + backup(8) + voice_note("G4", 8, "2", 1) +
      backup(8) + voice_note("E4", 8, "5", 2) + backup(8) + voice_note("C3", 8, "6", 2)))));
  EXPECT_EQ(voices(s), (std::vector<int>{3, 2, 1, 0}));
  EXPECT_EQ(s.voices, 4);
}

TEST(MusicXmlVoices, GoByPitchWhereTheFileNumbersThemUpsideDown) {
  const Score s = score(document(
      part(bar(start() + voice_note("E4", 8, "1") + backup(8) + voice_note("C5", 8, "2")))));
  EXPECT_EQ(voices(s), (std::vector<int>{1, 0}));
}

TEST(MusicXmlVoices, OfChordsOnTwoStavesAreFour) {
  const Score s = score(
      document(part(bar(start(kTwoStaves) + note("C5", 8, in("1", 1)) + chord("G4", 8, in("1", 1)) +
                        backup(8) + note("E4", 8, in("5", 2)) + chord("C3", 8, in("5", 2))))));
  EXPECT_EQ(voices(s), (std::vector<int>{3, 2, 1, 0}));
}

TEST(MusicXmlVoices, NoteAloneIsTheTuneAboveAndTheBassBelow) {
  const Score s = score(
      document(part(bar(start(kTwoStaves) + note("C5", 4, in("1", 1)) + chord("G4", 4, in("1", 1)) +
                        note("D5", 4, in("1", 1)) + backup(8) + note("E4", 4, in("5", 2)) +
                        chord("C3", 4, in("5", 2)) + note("G3", 4, in("5", 2))))));
  ASSERT_EQ(s.notes.size(), 6u);
  EXPECT_EQ(s.notes[4].pitch, 55);
  EXPECT_EQ(s.notes[4].voice, 3);
  EXPECT_EQ(s.notes[5].pitch, 74);
  EXPECT_EQ(s.notes[5].voice, 0);
}

TEST(MusicXmlVoices, ThatComesAndGoesLeavesTuneAndBassTheirPlaces) {
  // A high descant note in voice 3 above, a low octave in voice 7 below, once each in four bars.
  std::string bars =
      bar(start(kTwoStaves) + voice_note("C5", 2, "1", 1) + voice_note("D5", 2, "1", 1) +
          voice_note("E5", 4, "1", 1) + backup(4) + voice_note("G5", 4, "3", 1) + backup(8) +
          voice_note("C4", 2, "5", 2) + voice_note("B3", 2, "5", 2) + voice_note("C4", 4, "5", 2) +
          backup(4) + voice_note("C3", 4, "7", 2));
  bars += bar(voice_note("C5", 2, "1", 1) + voice_note("D5", 2, "1", 1) +
              voice_note("E5", 4, "1", 1) + backup(8) + voice_note("C4", 2, "5", 2) +
              voice_note("B3", 2, "5", 2) + voice_note("C4", 4, "5", 2));
  const Score s = score(document(part(bars)));
  EXPECT_EQ(s.voices, 4);
  for (const Note& n : s.notes) {
    if (n.pitch == 79) {
      EXPECT_EQ(n.voice, 1);
    }
    if (n.pitch == 48) {
      EXPECT_EQ(n.voice, 2);
    }
    if (n.staff == 0 && n.pitch != 79) {
      EXPECT_EQ(n.voice, 0);
    }
    if (n.staff == 1 && n.pitch != 48) {
      EXPECT_EQ(n.voice, 3);
    }
  }
}

TEST(MusicXmlVoices, CrossingToTheOtherStaffStaysItself) {
  std::string notes;
  for (int i = 0; i < 7; ++i) notes += voice_note("C4", 1, "1", 2);
  notes += voice_note("E4", 1, "1", 1);
  const Score s = score(
      document(part(bar(start(kTwoStaves) + voice_note("C5", 8, "3", 1) + backup(8) + notes))));
  EXPECT_EQ(s.voices, 2);
  for (const Note& n : s.notes) EXPECT_EQ(n.voice, n.pitch == 72 ? 0 : 1);
  EXPECT_EQ(s.notes.back().staff, 0);
}

TEST(MusicXmlVoices, OfTheSameNameOnTwoStavesAreTwo) {
  const Score s = score(document(part(
      bar(start(kTwoStaves) + note("C5", 8, in("1", 1)) + backup(8) + note("C3", 8, in("1", 2))))));
  EXPECT_EQ(voices(s), (std::vector<int>{1, 0}));
}

TEST(MusicXmlVoices, GoOnThroughTheParts) {
  std::string parts;
  for (const char* pitch : {"C5", "G4", "E4", "C3"}) parts += part(bar(start() + note(pitch, 8)));
  const Score s = score(document(parts));
  EXPECT_EQ(voices(s), (std::vector<int>{3, 2, 1, 0}));
  EXPECT_EQ(s.staves, 4);
  EXPECT_EQ(s.notes[0].staff, 3);
}

}  // namespace
}  // namespace loftbeat::music
