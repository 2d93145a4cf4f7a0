// Tempo, keys, fermatas and titles of MusicXML.

#include "xml_piece.h"

namespace loftbeat::music {
namespace {

using namespace xml;

std::string metronome(const std::string& unit, const std::string& per_minute,
                      const std::string& sound = {}) {
  return "<direction><direction-type><metronome>" + unit + "<per-minute>" + per_minute +
         "</per-minute></metronome></direction-type>" + sound + "</direction>";
}

std::vector<std::pair<double, double>> tempi(const std::string& text) {
  std::vector<std::pair<double, double>> all;
  for (const TempoMark& mark : score(text).tempi) {
    all.emplace_back(quarters(mark.at), mark.quarters_per_minute);
  }
  return all;
}

std::string one_bar(const std::string& direction) {
  return document(part(bar(start() + direction + note("C5", 8))));
}

using Tempi = std::vector<std::pair<double, double>>;

TEST(MusicXmlTempo, IsCountedInQuartersWhateverTheUnit) {
  EXPECT_EQ(tempi(one_bar(metronome("<beat-unit>quarter</beat-unit>", "72"))), (Tempi{{0, 72}}));
  EXPECT_EQ(tempi(one_bar(metronome("<beat-unit>half</beat-unit>", "50"))), (Tempi{{0, 100}}));
  EXPECT_EQ(tempi(one_bar(metronome("<beat-unit>quarter</beat-unit><beat-unit-dot/>", "60"))),
            (Tempi{{0, 90}}));
  EXPECT_EQ(tempi(one_bar(
                metronome("<beat-unit>half</beat-unit><beat-unit-dot/><beat-unit-dot/>", "20"))),
            (Tempi{{0, 70}}));
  EXPECT_EQ(tempi(one_bar(metronome("<beat-unit>eighth</beat-unit>", "120"))), (Tempi{{0, 60}}));
}

TEST(MusicXmlTempo, IsTheFirstNumberOfTheText) {
  const auto read = [](const std::string& text) {
    return tempi(one_bar(metronome("<beat-unit>quarter</beat-unit>", text)));
  };
  EXPECT_EQ(read("ca. 72"), (Tempi{{0, 72}}));
  EXPECT_EQ(read("72-80"), (Tempi{{0, 72}}));
  EXPECT_EQ(read("c. 66.5."), (Tempi{{0, 66.5}}));
}

TEST(MusicXmlTempo, OfSoundOutranksTheMetronome) {
  EXPECT_EQ(
      tempi(one_bar(metronome("<beat-unit>quarter</beat-unit>", "72", "<sound tempo=\"70\"/>"))),
      (Tempi{{0, 70}}));
  EXPECT_EQ(tempi(one_bar("<sound tempo=\"81\"/>")), (Tempi{{0, 81}}));
}

TEST(MusicXmlTempo, WithoutAUsableNumberIsPassedOverWithANotice) {
  for (const char* tempo : {"fast", "0", "-3", "1e999", "nan"}) {
    const ReadScore read = xml::read(one_bar("<sound tempo=\"" + std::string(tempo) + "\"/>"));
    EXPECT_TRUE(read.score.tempi.empty()) << tempo;
    ASSERT_EQ(read.notices.size(), 1u) << tempo;
    EXPECT_GT(read.notices[0].line, 1);
  }
}

TEST(MusicXmlTempo, StandsAtItsPlaceAndComesBackWithAJump) {
  const std::string back = "<barline location=\"right\"><repeat direction=\"backward\"/></barline>";
  const std::string text =
      document(part(bar(start() + "<sound tempo=\"60\"/>" + note("C5", 8)) +
                    bar("<barline location=\"left\"><repeat direction=\"forward\"/></barline>" +
                        note("C5", 4) + "<sound tempo=\"50\"/>" + note("C5", 4) + back)));
  EXPECT_EQ(tempi(text), (Tempi{{0, 60}, {6, 50}, {8, 60}, {10, 50}}));
}

TEST(MusicXmlTempo, OfSeveralPartsAtOnePlaceIsOne) {
  const std::string bars = bar(start() + "<sound tempo=\"60\"/>" + note("C5", 8));
  EXPECT_EQ(tempi(document(part(bars) + part(bars))), (Tempi{{0, 60}}));
}

TEST(MusicXmlKeys, AreReadWithTheirMode) {
  const Score s = score(document(
      part(bar(start("<key><fifths>-3</fifths><mode>minor</mode></key>") + note("C5", 8)) +
           bar("<attributes><key><fifths>2</fifths></key></attributes>" + note("C5", 8)))));
  ASSERT_EQ(s.keys.size(), 2u);
  EXPECT_EQ(s.keys[0], (KeyMark{0, -3, true}));
  EXPECT_EQ(s.keys[1], (KeyMark{4 * kTicksPerQuarter, 2, false}));
}

TEST(MusicXmlKeys, OfATransposingPartSound) {
  // A clarinet in B flat written in D major sounds in C major.
  const Score s = score(document(part(
      bar(start("<key><fifths>2</fifths></key><transpose><chromatic>-2</chromatic></transpose>") +
          note("D5", 8)))));
  ASSERT_EQ(s.keys.size(), 1u);
  EXPECT_EQ(s.keys[0].fifths, 0);
}

TEST(MusicXmlFermatas, StandOnNotesRestsAndBarLines) {
  const std::string fermata = "<fermata/>";
  const std::string rest =
      "<note><rest/><duration>4</duration><notations><fermata/></notations></note>";
  const std::string line = "<barline location=\"right\"><fermata/></barline>";
  const Score s =
      score(document(part(bar(start() + note("C5", 4) + with_notations("D5", 4, fermata)) +
                          bar(note("C5", 4) + rest) + bar(note("C5", 6) + note("E5", 2) + line))));
  ASSERT_EQ(s.fermatas.size(), 3u);
  EXPECT_EQ(quarters(s.fermatas[0].at), 2);
  EXPECT_EQ(quarters(s.fermatas[1].at), 6);
  EXPECT_EQ(quarters(s.fermatas[2].at), 11);
}

TEST(MusicXmlFermatas, OfSeveralVoicesAreOne) {
  // The alto arrives a beat after the soprano; both carry the sign and end together.
  Extra alto;
  alto.voice = "2";
  alto.notations = "<fermata/>";
  const Score s =
      score(document(part(bar(start() + note("C5", 4) + with_notations("D5", 4, "<fermata/>") +
                              backup(8) + voice_note("E4", 6, "2") + note("F4", 2, alto)) +
                          bar(note("C5", 8)))));
  ASSERT_EQ(s.fermatas.size(), 1u);
  EXPECT_EQ(quarters(s.fermatas[0].at), 3);
  EXPECT_EQ(phrase_begins(s), (std::vector<double>{0, 4}));
}

TEST(MusicXmlFermatas, OnTheLastOfTiedNotesStandWhereTheNoteWasStruck) {
  Extra stop;
  stop.after = "<tie type=\"stop\"/>";
  stop.notations = "<fermata/>";
  const Score s = score(document(part(bar(start() + note("D5", 4) + tied("C5", 4, "start")) +
                                      bar(note("C5", 4, stop) + note("E5", 4)))));
  ASSERT_EQ(s.fermatas.size(), 1u);
  EXPECT_EQ(quarters(s.fermatas[0].at), 2);
  EXPECT_EQ(phrase_begins(s), (std::vector<double>{0, 6}));
}

TEST(MusicXmlTitle, IsTheWorksOrTheMovementsInOneLine) {
  const std::string bars = part(bar(start() + note("C5", 8)));
  EXPECT_EQ(score(document(bars,
                           "<work><work-title> A\n  tune </work-title></work>"
                           "<movement-title>No. 1</movement-title>"))
                .title,
            "A tune");
  EXPECT_EQ(score(document(bars, "<movement-title>No. 1 &amp; 2</movement-title>")).title,
            "No. 1 & 2");
  EXPECT_EQ(score(document(bars)).title, "");
}

}  // namespace
}  // namespace loftbeat::music
