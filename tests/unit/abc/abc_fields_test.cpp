// Fields of ABC: keys, metres, units, tempi, voices and staves.

#include <gtest/gtest.h>

#include "abc_piece.h"
#include "music/abc_fields.h"
#include "music/abc_key.h"
#include "music/abc_staves.h"

namespace loftbeat::music {
namespace {

using namespace abc;
using Ints = std::vector<int>;

int fifths(const std::string& text) {
  const auto key = parse_abc_key(text, {});
  EXPECT_TRUE(key) << text;
  return key ? key->fifths : 99;
}

// Source: ABC 2.1, section 3.1.14, whose table lists the modes by number of sharps and flats.
TEST(AbcKeys, KnowTheModes) {
  for (const char* none : {"C", "Cmaj", "Am", "A minor", "Gmix", "Ddor", "Ephr", "Flyd", "Bloc",
                           "C Ionian", "AAeolian"}) {
    EXPECT_EQ(fifths(none), 0) << none;
  }
  for (const char* three_flats : {"Eb", "Cm", "Bbmix", "F DORIAN", "GPhr", "AbLyd", "D Locrian"}) {
    EXPECT_EQ(fifths(three_flats), -3) << three_flats;
  }
  for (const char* seven_sharps : {"C#", "A#m", "G#Mix", "D#Dor", "E#Phr", "F#Lyd", "B#Loc"}) {
    EXPECT_EQ(fifths(seven_sharps), 7) << seven_sharps;
  }
  EXPECT_TRUE(parse_abc_key("F#m", {})->minor);
  EXPECT_FALSE(parse_abc_key("D dorian", {})->minor);
}

TEST(AbcKeys, TakeAccidentalsOfTheirOwn) {
  EXPECT_EQ(parse_abc_key("D =c", {})->alter, (std::array{0, 0, 0, 1, 0, 0, 0}));
  EXPECT_EQ(parse_abc_key("D phr ^f", {})->alter, (std::array{0, 0, -1, 1, 0, 0, -1}));
  EXPECT_EQ(parse_abc_key("D exp _b _e ^f", {})->alter, (std::array{0, 0, -1, 1, 0, 0, -1}));
  EXPECT_EQ(parse_abc_key("HP", {})->alter, (std::array{1, 0, 0, 1, 0, 0, 0}));
}

TEST(AbcKeys, StayAsTheyWereWhereOnlyAClefStands) {
  const auto before = parse_abc_key("Eb", {});
  EXPECT_EQ(parse_abc_key("clef=bass", *before), before);
  EXPECT_EQ(parse_abc_key("bass octave=-1", *before), before);
  EXPECT_EQ(parse_abc_key("G clef=treble", *before)->fifths, 1);
  EXPECT_FALSE(parse_abc_key("none", *before)->stated);
  EXPECT_FALSE(parse_abc_key("", *before)->stated);
}

TEST(AbcKeys, ThatAreNoneAreRefused) {
  for (const char* wrong : {"H", "Cq", "G#maj7", "8", "Fb", "^"}) {
    EXPECT_FALSE(parse_abc_key(wrong, {})) << wrong;
  }
}

TEST(AbcKeys, ChangeWithinTheTune) {
  const Score s = score(tune("F2 [K:G] F2 | F4 |", "K:F\n"));
  EXPECT_EQ(pitches(s), (Ints{65, 66, 66}));
  EXPECT_EQ(s.keys, (std::vector<KeyMark>{{0, -1, false}, {2 * kTicksPerQuarter, 1, false}}));
}

TEST(AbcMetres, AreReadInEveryForm) {
  const auto metre = [](const char* text) { return *parse_abc_metre(text)->metre; };
  EXPECT_EQ(metre("C"), (Metre{4, 4}));
  EXPECT_EQ(metre("C|"), (Metre{2, 2}));
  EXPECT_EQ(metre(" 6 / 8 "), (Metre{6, 8}));
  EXPECT_EQ(metre("2+3/8"), (Metre{5, 8}));
  EXPECT_EQ(metre("(2+2+3)/8"), (Metre{7, 8}));
  EXPECT_FALSE(parse_abc_metre("none")->metre);
  for (const char* wrong : {"4", "4/", "/4", "4/5", "0/4", "x", "3+/4", "999999999999/4"}) {
    EXPECT_FALSE(parse_abc_metre(wrong)) << wrong;
  }
}

// Source: ABC 2.1, section 3.1.7.
TEST(AbcUnits, FollowTheMetreWhereNoneIsStated) {
  EXPECT_EQ(lengths(score("X:1\nM:2/4\nK:C\nC|")).front(), 0.25);
  EXPECT_EQ(lengths(score("X:1\nM:3/4\nK:C\nC|")).front(), 0.5);
  EXPECT_EQ(lengths(score("X:1\nM:none\nK:C\nC|")).front(), 0.5);
  EXPECT_EQ(lengths(score("X:1\nK:C\nC [L:1/16] C|")), (std::vector<double>{0.5, 0.25}));
}

double tempo(const std::string& text) {
  return parse_abc_tempo(text, {1, 8}).quarters_per_minute.value_or(-1);
}

// Source: ABC 2.1, sections 3.1.8 and 10.1 (the older forms).
TEST(AbcTempi, AreReadInEveryForm) {
  EXPECT_EQ(tempo("1/4=80"), 80);
  EXPECT_EQ(tempo("\"Slowly\" 3/8 = 50 \"or so\""), 75);
  EXPECT_EQ(tempo("1/4 3/8 1/4 3/8=40"), 200);
  EXPECT_EQ(tempo("C=120"), 60);
  EXPECT_EQ(tempo("C3=40"), 60);
  EXPECT_EQ(tempo("120"), 60);
  EXPECT_EQ(tempo("1/4=66.5"), 66.5);
  EXPECT_EQ(tempo("\"Allegro\""), -1);
  EXPECT_TRUE(parse_abc_tempo("\"Allegro\"", {1, 8}).readable);
  EXPECT_FALSE(parse_abc_tempo("1/4=", {1, 8}).readable);
  EXPECT_FALSE(parse_abc_tempo("1/4=99999", {1, 8}).readable);
}

TEST(AbcTempi, StandWhereTheyAreWritten) {
  const Score s = score(tune("C4 | [Q:1/2=60] D4 |", "Q:1/4=100\n"));
  EXPECT_EQ(s.tempi, (std::vector<TempoMark>{{0, 100}, {4 * kTicksPerQuarter, 120}}));
  EXPECT_EQ(read(tune("C4|", "Q:quickly\n")).notices.size(), 1u);
}

TEST(AbcStaves, ShareWithinParentheses) {
  using S = AbcStaves;
  EXPECT_EQ(parse_abc_staves("(S A) | (T B)"), (S{{"S", "A"}, {"T", "B"}}));
  EXPECT_EQ(parse_abc_staves("[1 {2 (3 4)}] *5"), (S{{"1"}, {"2"}, {"3", "4"}, {"5"}}));
  EXPECT_EQ(parse_abc_staves("(1 2) (1 3"), (S{{"1", "2"}, {"3"}}));
  EXPECT_EQ(parse_abc_staves(")) | ]"), S{});
}

TEST(AbcVoices, CountFromTheTopOfTheSystem) {
  const Score s = score(tune("[V:T] C4|\n[V:S] c4|\n[V:B] C,4|\n[V:A] G4|",
                             "%%score (S A) (T B)\nV:T\nV:S\nV:B\nV:A\n"));
  ASSERT_EQ(s.notes.size(), 4u);
  EXPECT_EQ(s.staves, 2);
  EXPECT_EQ(s.voices, 4);
  const int staves[] = {1, 1, 0, 0};
  for (std::size_t i = 0; i < 4; ++i) {
    EXPECT_EQ(s.notes[i].voice, 3 - static_cast<int>(i));  // sorted by pitch: B T A S
    EXPECT_EQ(s.notes[i].staff, staves[i]);
  }
}

TEST(AbcVoices, WithoutNotesTakeNoStaff) {
  const Score s = score(tune("[V:1] c4|\n[V:2] x4|\n[V:3] C4|", "%%score 1 2 3\nV:1\nV:2\nV:3\n"));
  EXPECT_EQ(s.staves, 2);
  EXPECT_EQ(s.notes[0].staff, 1);
}

TEST(AbcVoices, NotNamedInScoreStandBelow) {
  const Score s = score(tune("V:9\nc4|\nV:1\nC4|", "%%score 1\n"));
  EXPECT_EQ(s.notes[0].staff, 0);
  EXPECT_EQ(s.notes[1].staff, 1);
}

TEST(AbcVoices, MayBarTheirTimeDifferently) {
  const ReadScore r =
      read(tune("V:1\nC D E F | G4 | A4 |\nV:2\nC2 | D2 | E4 F4 |\n", "%%score 1 2\n"));
  EXPECT_EQ(bar_numbers(r.score), (std::vector<std::string>{"1", "2", "3"}));
  EXPECT_EQ(r.score.notes.back().onset, 8 * kTicksPerQuarter);
  EXPECT_EQ(r.notices.size(), 1u);
}

TEST(AbcVoices, ThatMissABeatAreTakenUpAtTheNextBar) {
  const ReadScore r = read(tune("V:1\nC D E F | G4 |\nV:2\nC D E | G,4 |\n", "%%score 1 2\n"));
  EXPECT_EQ(r.score.notes[r.score.notes.size() - 2].onset, 4 * kTicksPerQuarter);
  EXPECT_EQ(r.notices.size(), 1u);
}

TEST(AbcSymbols, AreWhatUSays) {
  EXPECT_EQ(score(tune("C4 | HD4 |")).fermatas.size(), 1u);
  EXPECT_EQ(score(tune("C4 | TD4 |", "U:T = !fermata!\n")).fermatas.size(), 1u);
  EXPECT_EQ(score(tune("C4 | HD4 |", "U:H = !nil!\n")).fermatas.size(), 0u);
}

}  // namespace
}  // namespace loftbeat::music
