// Phrases: from which signs, and where they begin.

#include "music/phrases.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include "xml_piece.h"

namespace loftbeat::music {
namespace {

using namespace xml;

std::string lyric(const std::string& text, const std::string& more = {}, int verse = 1) {
  return "<lyric number=\"" + std::to_string(verse) + "\"><text>" + text + "</text>" + more +
         "</lyric>";
}

TEST(Phrases, BeginWithTheUpbeatAfterTheFermata) {
  const Score s = score(
      document(part(bar(start() + note("G4", 2), "implicit=\"yes\"") +
                    bar(note("C5", 4) + with_notations("D5", 2, "<fermata/>") + note("G4", 2)) +
                    bar(note("C5", 8)))));
  EXPECT_EQ(s.phrase_source, PhraseSource::fermatas);
  EXPECT_EQ(phrase_begins(s), (std::vector<double>{0, 4}));
  EXPECT_EQ(s.phrases.back().span.end, s.length);
}

TEST(Phrases, OfTheTextOutrankFermatas) {
  const Score s = score(
      document(part(bar(start() + with_lyrics("C5", 2, lyric("one")) +
                        with_lyrics("D5", 2, lyric("line,", "<end-line/>")) +
                        with_lyrics("E5", 2, lyric("an")) + with_lyrics("F5", 2, lyric("oth"))) +
                    bar(with_notations("G5", 2, "<fermata/>") +
                        with_lyrics("A5", 2, lyric("er.", "<end-paragraph/>")) +
                        with_lyrics("B5", 4, lyric("Third"))))));
  EXPECT_EQ(s.phrase_source, PhraseSource::lyric_lines);
  EXPECT_EQ(phrase_begins(s), (std::vector<double>{0, 2, 6}));
}

TEST(Phrases, KeepNotesSungOnTheLastSyllable) {
  const Score s = score(document(
      part(bar(start() + with_lyrics("C5", 2, lyric("a")) +
               with_lyrics("D5", 2, lyric("men", "<end-line/>")) + note("E5", 2) + note("D5", 2)) +
           bar(with_lyrics("C5", 8, lyric("b"))))));
  EXPECT_EQ(phrase_begins(s), (std::vector<double>{0, 4}));
}

TEST(Phrases, ComeFromTheLowestVerseThatMarksLines) {
  const Score s = score(document(part(
      bar(start() + with_lyrics("C5", 4, lyric("a") + lyric("x", "<end-line/>", 2)) +
          with_lyrics("D5", 4, lyric("b") + lyric("y", "", 2))) +
      bar(with_lyrics("C5", 4, lyric("c") + lyric("z", "", 2) + lyric("zz", "<end-line/>", 3)) +
          with_lyrics("D5", 4, lyric("d"))))));
  EXPECT_EQ(phrase_begins(s), (std::vector<double>{0, 2}));
  EXPECT_EQ(s.lyric_verses, 3);
}

TEST(Phrases, FallBackToBreathMarksAndDoubleBars) {
  const std::string breath = "<articulations><breath-mark/></articulations>";
  const Score breaths = score(document(
      part(bar(start() + with_notations("C5", 6, breath) + note("D5", 2)) + bar(note("C5", 8)))));
  EXPECT_EQ(breaths.phrase_source, PhraseSource::breath_marks);
  EXPECT_EQ(phrase_begins(breaths), (std::vector<double>{0, 3}));
  const std::string inside =
      "<barline location=\"middle\"><bar-style>light-light</bar-style></barline>";
  const Score doubles = score(
      document(part(bar(start() + note("C5", 6) + inside + note("D5", 2)) + bar(note("C5", 8)))));
  EXPECT_EQ(doubles.phrase_source, PhraseSource::double_bars);
  EXPECT_EQ(phrase_begins(doubles), (std::vector<double>{0, 3}));
}

TEST(Phrases, AreNoneWhereOnlyTheEndIsMarked) {
  const Score s =
      score(document(part(bar(start() + note("C5", 4) + with_notations("D5", 4, "<fermata/>")))));
  EXPECT_TRUE(s.phrases.empty());
  EXPECT_EQ(s.phrase_source, PhraseSource::none);
  EXPECT_EQ(s.fermatas.size(), 1u);
}

TEST(Phrases, ComeAgainWithARepeat) {
  const std::string back = "<barline location=\"right\"><repeat direction=\"backward\"/></barline>";
  const Score s =
      score(document(part(bar(start() + with_notations("C5", 4, "<fermata/>") + note("D5", 4)) +
                          bar(with_notations("C5", 8, "<fermata/>") + back) + bar(note("D5", 8)))));
  EXPECT_EQ(phrase_begins(s), (std::vector<double>{0, 2, 8, 10, 16}));
}

RC_GTEST_PROP(Phrases, CoverTheScoreWithoutGap, ()) {
  Score s;
  s.length = *rc::gen::inRange<Tick>(1, 400);
  const auto onsets = *rc::gen::container<std::vector<Tick>>(rc::gen::inRange<Tick>(0, s.length));
  for (const Tick at : onsets) s.notes.push_back({at, 1, 60, 0, 0});
  std::sort(s.notes.begin(), s.notes.end(),
            [](const Note& a, const Note& b) { return a.onset < b.onset; });
  LineEnds ends;
  const auto places = rc::gen::container<std::vector<Tick>>(rc::gen::inRange<Tick>(-5, 420));
  ends.lyric_lines = *places;
  ends.fermatas = *places;
  ends.double_bars = *places;
  find_phrases(s, ends);
  if (s.phrase_source == PhraseSource::none) {
    RC_ASSERT(s.phrases.empty());
    return;
  }
  RC_ASSERT(s.phrases.size() >= 2u);
  Tick end = 0;
  for (const Phrase& phrase : s.phrases) {
    RC_ASSERT(phrase.span.begin == end);
    RC_ASSERT(phrase.span.length() > 0);
    const bool struck = std::any_of(s.notes.begin(), s.notes.end(),
                                    [&](const Note& n) { return n.onset == phrase.span.begin; });
    RC_ASSERT(struck || phrase.span.begin == 0);
    end = phrase.span.end;
  }
  RC_ASSERT(end == s.length);
}

}  // namespace
}  // namespace loftbeat::music
