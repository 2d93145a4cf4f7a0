// format_musicxml gives what parse_musicxml reads back as the same score.

#include <filesystem>
#include <fstream>

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include "music/phrases.h"
#include "music/write.h"
#include "xml_piece.h"

namespace loftbeat::music {
namespace {

using namespace xml;

void expect_same(const Score& a, const Score& b) {
  EXPECT_EQ(a.title, b.title);
  EXPECT_EQ(a.notes, b.notes);
  EXPECT_EQ(a.bars, b.bars);
  EXPECT_EQ(a.phrases, b.phrases);
  EXPECT_EQ(a.phrase_source, b.phrase_source);
  EXPECT_EQ(a.fermatas, b.fermatas);
  EXPECT_EQ(a.tempi, b.tempi);
  EXPECT_EQ(a.keys, b.keys);
  EXPECT_EQ(a.words, b.words);
  EXPECT_EQ(a.tune, b.tune);
  EXPECT_EQ(a.lyric_verses, b.lyric_verses);
  EXPECT_EQ(a.voices, b.voices);
  EXPECT_EQ(a.staves, b.staves);
  EXPECT_EQ(a.length, b.length);
}

void expect_round_trip(const Score& original) {
  const std::string text = format_musicxml(original);
  const ReadScore back = read(text);
  expect_same(original, back.score);
  EXPECT_TRUE(back.notices.empty());
  EXPECT_EQ(format_musicxml(back.score), text);
}

TEST(MusicXmlRoundTrip, KeepsTheReferenceScores) {
  int scores = 0;
  const std::filesystem::path folder = LOFTBEAT_SOURCE_DIR "/tests/reference/musicxml";
  for (const auto& entry : std::filesystem::directory_iterator(folder)) {
    if (entry.path().extension() != ".musicxml") continue;
    SCOPED_TRACE(entry.path().filename());
    const auto original = read_score(entry.path());
    ASSERT_TRUE(original) << to_string(original.error());
    expect_round_trip(original->score);
    ++scores;
  }
  EXPECT_GE(scores, 7);
}

TEST(MusicXmlRoundTrip, KeepsWhatStandsInAwkwardPlaces) {
  // A key and a tempo inside a bar, a double bar inside a bar, a fermata on a rest, a note over
  // three bars, a metre that nothing fills, five quavers.
  const std::string text = document(part(
      bar(start("<key><fifths>-2</fifths><mode>minor</mode></key>") + tied("C5", 3, "start") +
          "<attributes><key><fifths>3</fifths></key></attributes>" + tied("C5", 5, "stop start")) +
      bar(tied("C5", 8, "stop start")) +
      bar(tied("C5", 2, "stop") + "<sound tempo=\"61.5\"/>" +
          "<barline location=\"middle\"><bar-style>light-light</bar-style></barline>" +
          note("E4", 5) + note("rest", 1)) +
      bar("<attributes><time><beats>7</beats><beat-type>8</beat-type></time></attributes>" +
          note("G4", 7)) +
      bar("<note><rest measure=\"yes\"/><duration>7</duration></note>") +
      bar(note("A4", 3) +
          "<note><rest/><duration>4</duration><notations><fermata/></notations></note>")));
  const Score s = score(text);
  EXPECT_EQ(s.phrase_source, PhraseSource::double_bars);
  EXPECT_EQ(s.fermatas.size(), 1u);
  expect_round_trip(s);
}

TEST(MusicXmlRoundTrip, KeepsEachSourceOfPhrases) {
  for (const PhraseSource source :
       {PhraseSource::lyric_lines, PhraseSource::breath_marks, PhraseSource::double_bars}) {
    Score s = score(document(part(bar(start() + note("C5", 4) + note("D5", 3) + note("E5", 1)) +
                                  bar(note("F5", 2) + note("rest", 1) + note("G5", 5)))));
    s.phrases = {{{0, 35280}}, {{35280, 55440}}, {{55440, s.length}}};
    s.phrase_source = source;
    expect_round_trip(s);
  }
}

TEST(MusicXmlRoundTrip, WritesPhrasesOfThePlanAsLineEnds) {
  Score s = score(document(part(bar(start() + note("C5", 4) + note("D5", 4)))));
  s.phrases = {{{0, 20160}}, {{20160, 40320}}};
  s.phrase_source = PhraseSource::plan;
  const Score back = score(format_musicxml(s));
  EXPECT_EQ(back.phrases, s.phrases);
  EXPECT_EQ(back.phrase_source, PhraseSource::lyric_lines);
}

TEST(MusicXmlRoundTrip, EscapesTheTitle) {
  Score s = score(document(part(bar(start() + note("C5", 8)))));
  s.title = "<A> & \"B\" 'C' \xC3\xA4";
  expect_round_trip(s);
  s.title = "bad \xE4 byte\n";
  EXPECT_EQ(score(format_musicxml(s)).title, "bad ? byte");
}

// Scores as a reader would give them: bars of one metre, with or without a pickup, voices on two
// staves, each a line of notes and rests that may run over bar lines.
Score random_score() {
  Score s;
  const int beats = *rc::gen::inRange(2, 6);
  const Tick full = beats * kTicksPerQuarter;
  const Tick pickup = *rc::gen::inRange(0, beats) * kTicksPerQuarter;
  if (pickup > 0) s.bars.push_back({0, pickup, "0", beats, 4, true});
  const int count = *rc::gen::inRange(1, 6);
  for (int i = 1; i <= count; ++i) {
    s.bars.push_back({pickup + (i - 1) * full, full, std::to_string(i), beats, 4, false});
  }
  s.length = pickup + count * full;
  const Tick grain = *rc::gen::element<Tick>(5040, 3360, 2520, 2016, 1440, 1260, 630);
  const int voices = *rc::gen::inRange(1, 5);
  for (int voice = 0; voice < voices; ++voice) {
    for (Tick at = 0; at < s.length;) {
      const Tick length = std::min(grain * *rc::gen::inRange<Tick>(1, 20), s.length - at);
      const bool rest = *rc::gen::weightedElement<bool>({{5, false}, {1, true}}) && at > 0;
      if (!rest) s.notes.push_back({at, length, *rc::gen::inRange(0, 128), voice, voice / 2});
      at += length;
    }
  }
  s.voices = voices;
  s.staves = (voices + 1) / 2;
  std::sort(s.notes.begin(), s.notes.end(), [](const Note& a, const Note& b) {
    return std::tie(a.onset, a.pitch, a.voice) < std::tie(b.onset, b.pitch, b.voice);
  });
  s.keys = {{0, *rc::gen::inRange(-7, 8), *rc::gen::arbitrary<bool>()}};
  s.tempi = {{0, 0.5 + *rc::gen::inRange(20, 200)}};
  s.lyric_verses = *rc::gen::inRange(0, 9);
  s.title = "Tune";
  return s;
}

RC_GTEST_PROP(MusicXmlRoundTrip, KeepsRandomScores, ()) {
  const Score s = random_score();
  const auto back = parse_musicxml(format_musicxml(s), "written");
  RC_ASSERT(back.ok());
  RC_ASSERT(back->score.notes == s.notes);
  RC_ASSERT(back->score.bars == s.bars);
  RC_ASSERT(back->score.keys == s.keys);
  RC_ASSERT(back->score.tempi == s.tempi);
  RC_ASSERT(back->score.lyric_verses == s.lyric_verses);
  RC_ASSERT(back->score.voices == s.voices);
  RC_ASSERT(back->score.staves == s.staves);
  RC_ASSERT(back->score.length == s.length);
}

}  // namespace
}  // namespace loftbeat::music
