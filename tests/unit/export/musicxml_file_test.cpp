// What is exported as MusicXML is read back as the same score.

#include <gtest/gtest.h>

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

}  // namespace
}  // namespace loftbeat::music
