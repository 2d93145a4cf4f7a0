#include <gtest/gtest.h>

#include "music/heading.h"
#include "music/music.h"

namespace loftbeat::music {
namespace {

struct Told {
  std::string tune;
  std::string metre;
  friend bool operator==(const Told&, const Told&) = default;
  friend std::ostream& operator<<(std::ostream& out, const Told& told) {
    return out << told.tune << " / " << told.metre;
  }
};

Told told(std::string_view line, HeadingPlace place = HeadingPlace::below_title) {
  Score score;
  take_heading(line, place, score);
  return {score.tune, score.poetic_metre};
}

// Source: common practice of hymn books, no source.
TEST(Headings, TellTuneAndMetre) {
  EXPECT_EQ(told("AZMON"), (Told{"AZMON", ""}));
  EXPECT_EQ(told("AZMON  C.M."), (Told{"AZMON", "8.6.8.6 (C.M.)"}));
  EXPECT_EQ(told("OLD HUNDREDTH (L.M.)"), (Told{"OLD HUNDREDTH", "8.8.8.8 (L.M.)"}));
  EXPECT_EQ(told("Tune: Azmon, by somebody"), (Told{"Azmon", ""}));
  EXPECT_EQ(told("Tune: Azmon 86.86"), (Told{"Azmon", "8.6.8.6 (C.M.)"}));
  EXPECT_EQ(told("Music: 'Now the Day' somebody, 1839"), (Told{"Now the Day", ""}));
  EXPECT_EQ(told("Melody: \xE2\x80\x9CLight\xE2\x80\x9D of old"), (Told{"Light", ""}));
  EXPECT_EQ(told("Meter: 8.7.8.7 D"), (Told{"", "8.7.8.7 D"}));
  EXPECT_EQ(told("8 7 8 7"), (Told{"", "8.7.8.7"}));
}

TEST(Headings, WhatIsSomethingElseIsPassedOver) {
  for (const char* line :
       {"", "Words: Somebody, 1867", "Music: Somebody, 1529", "Copyright: 'X' PUBLIC", "II",
        "From the old book", "Setting: \"Choral Book\", 1906.", "Tune:", "Metre: slow",
        "Source: The Book, 1906 Hymn 273.", "page 23", "No. 5.8", "Hymn #32, page 234"})
    EXPECT_EQ(told(line), Told{}) << line;
  EXPECT_EQ(told("TRADITIONAL", HeadingPlace::elsewhere), Told{});
  EXPECT_EQ(told("AZMON C.M.", HeadingPlace::elsewhere), (Told{"AZMON", "8.6.8.6 (C.M.)"}));
}

TEST(Headings, TheFirstThatTellsCounts) {
  Score score;
  take_heading("Tune: First", HeadingPlace::elsewhere, score);
  take_heading("Tune: Second 8.8.8.8", HeadingPlace::elsewhere, score);
  EXPECT_EQ(score.tune, "First");
  EXPECT_EQ(score.poetic_metre, "8.8.8.8 (L.M.)");
}

TEST(Headings, AreReadFromEveryFormat) {
  const auto abc = parse_abc(
      "X:1\nT:Now the lamps\nT:QUAVERHAM C.M.\nC:Words: Somebody\nM:4/4\nL:1/4\nK:C\nCDEF|\n", "a");
  ASSERT_TRUE(abc) << to_string(abc.error());
  EXPECT_EQ(abc->score.title, "Now the lamps");
  EXPECT_EQ(abc->score.tune, "QUAVERHAM");
  EXPECT_EQ(abc->score.poetic_metre, "8.6.8.6 (C.M.)");
  const auto parish = read_score(LOFTBEAT_SOURCE_DIR "/sessions/quaverham/azmon.musicxml");
  ASSERT_TRUE(parish);
  EXPECT_EQ(parish->score.tune, "Azmon");
  for (const std::string& bytes : {format_musicxml(abc->score), format_smf_score(abc->score)}) {
    const auto back = parse_score(bytes, "back");
    ASSERT_TRUE(back) << to_string(back.error());
    EXPECT_EQ(back->score.title, "Now the lamps");
    EXPECT_EQ(back->score.tune, "QUAVERHAM");
    EXPECT_EQ(back->score.poetic_metre, "8.6.8.6 (C.M.)");
  }
}

TEST(Headings, OfAMusicXmlFileMayStandInItsCredits) {
  const std::string text =
      "<score-partwise><work><work-title>Now</work-title></work>"
      "<credit><credit-words>QUAVERHAM  L.M.</credit-words></credit><part-list/>"
      "<part "
      "id=\"P\"><measure><attributes><divisions>1</divisions></attributes><note><pitch><step>C"
      "</step><octave>4</octave></pitch><duration>4</duration></note></measure></part>"
      "</score-partwise>";
  const auto read = parse_musicxml(text, "x");
  ASSERT_TRUE(read) << to_string(read.error());
  EXPECT_EQ(read->score.tune, "QUAVERHAM");
  EXPECT_EQ(read->score.poetic_metre, "8.8.8.8 (L.M.)");
}

}  // namespace
}  // namespace loftbeat::music
