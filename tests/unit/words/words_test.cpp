#include "music/words.h"

#include <gtest/gtest.h>

#include "music/music.h"

namespace loftbeat::music {
namespace {

Score read_tune(const std::string& body) {
  const auto read = parse_abc("X:1\nT:Test\nM:4/4\nL:1/4\nK:C\n" + body, "test.abc");
  if (!read) ADD_FAILURE() << to_string(read.error());
  return read ? read->score : Score{};
}

const std::string kTwoLines =
    "C D E F|G2 A B|\nw: 1.~All peo- ple that on earth do\nw: 2.~Know that the Lord is God:\n"
    "c B A G|F2 E2|\nw: Sing to the Lord with *\nw: Indeed with- out our aid\n";

TEST(Words, KeepSyllableVerseAndPlace) {
  const Score score = read_tune(kTwoLines);
  ASSERT_GE(score.words.size(), 4u);
  EXPECT_EQ(score.words[0], (Syllable{0, 1, false, "All"}));
  EXPECT_EQ(score.words[1], (Syllable{0, 2, false, "Know"}));
  EXPECT_EQ(score.words[2], (Syllable{kTicksPerQuarter, 1, true, "peo"}));
  EXPECT_EQ(lines_of_words(score)[0], "All people that on earth do");
  EXPECT_EQ(syllables_by_line(score)[0], 7);
}

TEST(Words, ASyllableOverATieIsOne) {
  const Score score = read_tune("C4-|C2 D2|\nw: La-_ mb\n");
  ASSERT_EQ(score.words.size(), 2u);
  EXPECT_EQ(score.words[0], (Syllable{0, 1, true, "La"}));
  EXPECT_EQ(score.words[1].at, 6 * kTicksPerQuarter);
  // Two syllables on one note are sung together.
  const Score joined = read_tune("C4-|C2 D2|\nw: La- mb of\n");
  ASSERT_EQ(joined.words.size(), 2u);
  EXPECT_EQ(joined.words[0], (Syllable{0, 1, false, "Lamb"}));
}

TEST(Words, AreWhatWasWritten) {
  for (const std::string& body :
       {kTwoLines, std::string("C D E2|\nw: a b c\nF2 G2|\nw: d e\n"),
        std::string("C D E2-|E2 G2|\nw: Glo- ry_ be\nw: \xC3\xA4 \xC3\xB6 \xC3\xBC !\n"),
        std::string("C D E2|F4|\nw: 1.~to~a b\nw: c d e f\n")}) {
    const Score score = read_tune(body);
    ASSERT_FALSE(score.words.empty());
    const std::string written = format_musicxml(score);
    const auto back = parse_musicxml(written, "back");
    ASSERT_TRUE(back) << to_string(back.error());
    EXPECT_EQ(back->score.words, score.words) << written;
    EXPECT_EQ(back->score.phrases, score.phrases);
    EXPECT_EQ(back->score.phrase_source, score.phrase_source);
    EXPECT_EQ(format_musicxml(back->score), written);
  }
}

TEST(Words, OfTheFirstVerseGoThroughAMidiFile) {
  const Score score = read_tune(kTwoLines);
  const auto back = parse_smf_score(format_smf_score(score), "back");
  ASSERT_TRUE(back) << to_string(back.error());
  std::vector<Syllable> first;
  for (const Syllable& syllable : score.words)
    if (syllable.verse == 1) first.push_back(syllable);
  EXPECT_EQ(back->score.words, first);
  EXPECT_EQ(back->score.phrases, score.phrases);
}

TEST(Words, TwoLinesPrintedAsOneAreCountedApart) {
  std::string notes;
  for (int bar = 0; bar < 4; ++bar) notes += "C C C C|";
  const Score score =
      read_tune(notes + "\nw: Now the lamps are lit at e- ven, All the hills are grow- ing dark\n" +
                "w: Here with- in the walls we ga- ther While the night is ve- ry still,\n" +
                notes + "\nw: Now the lamps are lit at e- ven and the hills are grow- ing dark\n" +
                "w: Here with- in the walls we ga- ther, while the night is ve- ry still.\n");
  EXPECT_EQ(syllables_by_line(score), (std::vector<int>{8, 7, 8, 7}));
}

TEST(Words, ShortTextCutsAtACharacter) {
  EXPECT_EQ(short_text("  a \t b\n", 60), "a b");
  EXPECT_EQ(short_text("\xC3\xA4\xC3\xA4", 3), "\xC3\xA4");
  EXPECT_EQ(short_text("ab", 0), "");
  EXPECT_EQ(joined_syllables("to", "a"), "to a");
  EXPECT_LE(joined_syllables(std::string(50, 'x'), std::string(50, 'y')).size(), kMaxSyllableBytes);
}

// The words of one voice are kept, not those of every part.
TEST(Words, OfOneVoiceAreKept) {
  const Score score = read_tune(
      "V:1\nV:2\nV:1\nE F G A|\nw: one two three four\nV:2\nC D E F|\nw: one two three four\n");
  EXPECT_EQ(score.words.size(), 4u);
  EXPECT_EQ(lines_of_words(score)[0], "one two three four");
}

}  // namespace
}  // namespace loftbeat::music
