// What is exported as MusicXML is read back as the same score.

#include <gtest/gtest.h>

#include <set>

#include "hymns.h"

namespace loftbeat::music {
namespace {

TEST(MusicXmlExport, IsReadBackAsTheSameScore) {
  const auto scores = all_our_scores();
  ASSERT_GE(scores.size(), 45u);
  for (const auto& [name, score] : scores) {
    SCOPED_TRACE(name);
    const std::string written = format_musicxml(score);
    const auto read = parse_musicxml(written, "written");
    ASSERT_TRUE(read) << to_string(read.error());
    const Score& back = read->score;
    EXPECT_EQ(back.notes, score.notes);
    EXPECT_EQ(back.bars, score.bars);
    EXPECT_EQ(back.keys, score.keys);
    EXPECT_EQ(back.tempi, score.tempi);
    EXPECT_EQ(back.fermatas, score.fermatas);
    EXPECT_EQ(back.phrases, score.phrases);
    EXPECT_EQ(back.words, score.words);
    EXPECT_EQ(back.lyric_verses, score.lyric_verses);
    EXPECT_EQ(back.title, score.title);
    EXPECT_EQ(back.tune, score.tune);
    EXPECT_EQ(back.staves, score.staves);
    EXPECT_EQ(format_musicxml(back), written);
  }
}

// Distinct <voice> numbers in the file.
std::set<std::string> written_voices(const std::string& text) {
  std::set<std::string> voices;
  for (std::size_t at = text.find("<voice>"); at != text.npos; at = text.find("<voice>", at + 1))
    voices.insert(text.substr(at + 7, text.find('<', at + 7) - at - 7));
  return voices;
}

// Notation programs take four voices on a staff; chords may hold any number of notes.
TEST(MusicXmlExport, PutsManyVoicesOfAStaffIntoChords) {
  const auto read = parse_abc(
      "X:1\nT:Six\n%%score (A B)\nM:4/4\nL:1/4\nK:G\nV:A\nV:B\nV:A\n"
      "[DGBdg]2 [CEAc]-[CEAc]|[DGBdg]4|]\nV:B\nG, A, B,2-|B,4|]\n",
      "six.abc");
  ASSERT_TRUE(read) << to_string(read.error());
  ASSERT_EQ(read->score.voices, 6);
  ASSERT_EQ(read->score.staves, 1);
  const std::string written = format_musicxml(read->score);
  EXPECT_LE(written_voices(written).size(), 4u) << written;
  EXPECT_NE(written.find("loftbeat-voice-"), std::string::npos);
  const auto back = parse_musicxml(written, "written");
  ASSERT_TRUE(back) << to_string(back.error());
  EXPECT_EQ(back->score.notes, read->score.notes);
  EXPECT_EQ(back->score.voices, read->score.voices);
  EXPECT_EQ(format_musicxml(back->score), written);
}

}  // namespace
}  // namespace loftbeat::music
