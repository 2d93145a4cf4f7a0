// Hostile and broken MusicXML: one clear error, bounded work, no crash.

#include <ctime>

#include "xml_piece.h"

namespace loftbeat::music {
namespace {

using namespace xml;

// The error; fails the test if the text is read after all.
Error refused(const std::string& text) {
  const auto result = parse_musicxml(text, "bad.musicxml");
  if (result) {
    ADD_FAILURE() << "was read";
    return {};
  }
  EXPECT_EQ(result.error().file, "bad.musicxml");
  EXPECT_FALSE(result.error().message.empty());
  return result.error();
}

std::string repeated(const std::string& text, std::size_t times) {
  std::string all;
  all.reserve(text.size() * times);
  for (std::size_t i = 0; i < times; ++i) all += text;
  return all;
}

// A score whose sixth line holds `item`.
std::string bad_item(const std::string& item) {
  return document(part(bar(start() + item + note("C4", 8))));
}

struct BadItem {
  const char* name;
  const char* item;
  const char* says;
};

class BadNumbers : public testing::TestWithParam<BadItem> {};

TEST_P(BadNumbers, AreRefusedWithLineAndExpectation) {
  const Error error = refused(bad_item(GetParam().item));
  EXPECT_NE(error.message.find(GetParam().says), std::string::npos) << error.message;
  EXPECT_NE(error.message.find("xpected"), std::string::npos) << error.message;
  EXPECT_EQ(error.line, 6) << to_string(error);
}

INSTANTIATE_TEST_SUITE_P(
    Items, BadNumbers,
    testing::Values(
        BadItem{"ZeroDivisions", "<attributes><divisions>0</divisions></attributes>",
                "<divisions>"},
        BadItem{"NegativeDivisions", "<attributes><divisions>-4</divisions></attributes>",
                "<divisions>"},
        BadItem{"HugeDivisions",
                "<attributes><divisions>99999999999999999999</divisions></attributes>",
                "<divisions>"},
        BadItem{"NoDivisions", "<attributes><divisions>many</divisions></attributes>", "'many'"},
        BadItem{"ZeroDuration", "<note><rest/><duration>0</duration></note>", "<duration> is 0"},
        BadItem{"NegativeDuration", "<note><rest/><duration>-1</duration></note>", "'-1'"},
        BadItem{"HugeDuration", "<note><rest/><duration>1e300</duration></note>", "'1e300'"},
        BadItem{"EndlessDuration", "<note><rest/><duration>inf</duration></note>", "'inf'"},
        BadItem{"LongDuration", "<note><rest/><duration>8193</duration></note>",
                "longer than 4096 quarters"},
        BadItem{"NoDuration", "<note><pitch><step>C</step><octave>4</octave></pitch></note>",
                "lacks its <duration>"},
        BadItem{"BackTooFar", "<backup><duration>1</duration></backup>",
                "<backup> goes back before"},
        BadItem{"NoPitch", "<note><duration>1</duration></note>", "no <pitch>"},
        BadItem{
            "NoStep",
            "<note><pitch><step>H</step><octave>4</octave></pitch><duration>1</duration></note>",
            "<step>"},
        BadItem{
            "NoOctave",
            "<note><pitch><step>C</step><octave>12</octave></pitch><duration>1</duration></note>",
            "<octave>"},
        BadItem{"HugeAlter",
                "<note><pitch><step>C</step><alter>999999999999</alter><octave>4</octave></"
                "pitch><duration>1</duration></note>",
                "<alter>"},
        BadItem{
            "TooHigh",
            "<note><pitch><step>B</step><octave>9</octave></pitch><duration>1</duration></note>",
            "outside the range"},
        BadItem{"NoStaff", "<note><rest/><duration>1</duration><staff>2000000000</staff></note>",
                "<staff>"},
        BadItem{"NoMetre",
                "<attributes><time><beats>0</beats><beat-type>4</beat-type></time></attributes>",
                "<time>"},
        BadItem{"OddMetre",
                "<attributes><time><beats>4</beats><beat-type>5</beat-type></time></attributes>",
                "<time>"},
        BadItem{"HugeMetre",
                "<attributes><time><beats>2147483647+2147483647</beats><beat-type>4</beat-type></"
                "time></attributes>",
                "<time>"},
        BadItem{"ManyVerses",
                "<note><pitch><step>C</step><octave>4</octave></pitch><duration>1</duration><lyric "
                "number=\"1000000\"><text>a</text></lyric></note>",
                "at most 200 verses"},
        BadItem{
            "NoTimes",
            "<barline location=\"right\"><repeat direction=\"backward\" times=\"-1\"/></barline>",
            "<repeat>"}),
    [](const auto& item) { return item.param.name; });

TEST(HostileXml, TimewiseIsRefusedByName) {
  const Error error = refused("<?xml version=\"1.0\"?>\n<score-timewise version=\"4.0\"/>");
  EXPECT_NE(error.message.find("score-timewise"), std::string::npos);
  EXPECT_NE(error.message.find("score-partwise"), std::string::npos);
  EXPECT_EQ(error.line, 2);
}

TEST(HostileXml, OtherXmlIsRefused) {
  EXPECT_NE(refused("<html><body/></html>").message.find("not a MusicXML score"),
            std::string::npos);
}

TEST(HostileXml, BrokenXmlNamesItsLine) {
  const Error error = refused("<score-partwise>\n<part>\n</wrong>\n</score-partwise>");
  EXPECT_EQ(error.line, 3);
  EXPECT_NE(error.message.find("well-formed"), std::string::npos);
}

TEST(HostileXml, EntitiesAreNotExpanded) {
  std::string bomb =
      "<?xml version=\"1.0\"?>\n<!DOCTYPE score-partwise [\n<!ENTITY a \"aaaaaaaaaa\">\n";
  for (char c = 'b'; c <= 'z'; ++c) {
    const std::string before(1, static_cast<char>(c - 1));
    bomb += std::string("<!ENTITY ") + c + " \"" + repeated("&" + before + ";", 10) + "\">\n";
  }
  bomb += "]>\n<score-partwise><work><work-title>&z;</work-title></work></score-partwise>";
  const Error error = refused(bomb);
  EXPECT_EQ(error.line, 3);
  EXPECT_NE(error.message.find("entities"), std::string::npos);
}

TEST(HostileXml, OrdinaryDoctypeIsTaken) {
  std::string text = document(part(bar(start() + note("C4", 8))));
  text.insert(text.find("<score-partwise"),
              "<!DOCTYPE score-partwise PUBLIC \"-//Recordare//DTD MusicXML 4.0 Partwise//EN\" "
              "\"http://www.musicxml.org/dtds/partwise.dtd\">\n");
  EXPECT_EQ(score(text).notes.size(), 1u);
}

TEST(HostileXml, DeepNestingIsRefused) {
  const std::string deep = repeated("<a>", 65) + repeated("</a>", 65);
  EXPECT_EQ(refused(deep).kind, ErrorKind::too_large);
  EXPECT_EQ(refused(repeated("<a>", 1'000'000)).kind, ErrorKind::unreadable);
  EXPECT_EQ(refused(repeated("<a>", 64) + repeated("</a>", 64)).kind, ErrorKind::unreadable);
}

TEST(HostileXml, MillionsOfElementsAreRefusedBeforeTheTreeIsBuilt) {
  EXPECT_EQ(refused("<score-partwise>" + repeated("<a/>", 4'100'000) + "</score-partwise>").kind,
            ErrorKind::too_large);
  EXPECT_EQ(refused("<a " + repeated("b='' ", 4'100'000) + "/>").kind, ErrorKind::too_large);
}

TEST(HostileXml, RepeatsAreBounded) {
  const std::string back =
      "<barline location=\"right\"><repeat direction=\"backward\" times=\"1000000\"/></barline>";
  EXPECT_EQ(refused(document(part(bar(start() + note("C4", 8) + back)))).kind,
            ErrorKind::too_large);
  const std::string many =
      "<barline location=\"right\"><repeat direction=\"backward\" times=\"50000\"/></barline>";
  std::string notes;
  for (int i = 0; i < 100; ++i) notes += note("C4", 1);
  EXPECT_EQ(refused(document(part(bar(start() + notes + many)))).kind, ErrorKind::too_large);
}

TEST(HostileXml, SilentNotesUnderManyRepeatsAreBoundedToo) {
  const std::string never =
      "<note "
      "time-only=\"32\"><pitch><step>E</step><octave>4</octave></pitch><duration>1</duration></"
      "note>";
  const std::string back =
      "<barline location=\"right\"><repeat direction=\"backward\" times=\"90000\"/></barline>";
  const std::clock_t begin = std::clock();  // processor time: other programs do not count
  EXPECT_EQ(
      refused(document(part(bar(start() + repeated(never, 1000) + note("C4", 8) + back)))).kind,
      ErrorKind::too_large);
  EXPECT_LT(static_cast<double>(std::clock() - begin) / CLOCKS_PER_SEC, 5.0);
}

TEST(HostileXml, ManyPartsAndBarsAreRefused) {
  EXPECT_EQ(refused(document(repeated(part("<measure/>"), 600))).kind, ErrorKind::too_large);
  EXPECT_EQ(refused(document(part(repeated("<measure/>", 100'001)))).kind, ErrorKind::too_large);
}

TEST(HostileXml, NothingToPlayIsSaid) {
  EXPECT_NE(refused(document("")).message.find("no bars"), std::string::npos);
  EXPECT_NE(refused(document(part(bar(start() + note("rest", 8))))).message.find("no note"),
            std::string::npos);
}

TEST(HostileXml, DamageOfAnyByteNeverCrashes) {
  const std::string whole = document(part(
      bar(start("<transpose><chromatic>-2</chromatic></transpose>") + tied("C4", 4, "start") +
          chord("E4", 4) + with_notations("G4", 4, "<fermata/>")) +
      bar(tied("C4", 8, "stop") + "<barline location=\"right\"><ending number=\"1\" "
                                  "type=\"stop\"/><repeat direction=\"backward\"/></barline>")));
  for (std::size_t i = 0; i < whole.size(); ++i) {
    for (const char c : {'\0', '<', '>', '&', '9', '-', '\xFF'}) {
      std::string damaged = whole;
      damaged[i] = c;
      const auto result = parse_musicxml(damaged, "damaged");
      if (!result) {
        EXPECT_FALSE(result.error().message.empty());
      }
    }
    const auto cut = parse_musicxml(whole.substr(0, i), "cut");
    EXPECT_TRUE(i + 1 >= whole.size() || !cut.ok());
  }
}

}  // namespace
}  // namespace loftbeat::music
