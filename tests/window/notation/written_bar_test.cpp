// Pitches, values, dots and accidentals of the demo hymns as written. Source: the MusicXML files
// themselves, read here by Qt's reader, which shares nothing with ours.

#include <algorithm>
#include <map>
#include <set>
#include <string>
#include <tuple>
#include <vector>

#include <QFile>
#include <QXmlStreamReader>

#include <gtest/gtest.h>

#include "music/read.h"
#include "window/notation/bar_picture.h"
#include "window/notation/written_bar.h"

namespace loftbeat::window {
namespace {

const std::string kDemo = LOFTBEAT_SOURCE_DIR "/sessions/quaverham/";

// Staff, diatonic place, value, dots.
using Seen = std::tuple<int, int, int, int>;

int value_named(const QString& type) {
  const QStringList types = {"whole", "half", "quarter", "eighth", "16th"};
  return static_cast<int>(types.indexOf(type));
}

struct FileNote {
  bool rest = false;
  QString step;
  int octave = 0;
  int staff = 1;
  QString type;
  int dots = 0;
};

FileNote read_note(QXmlStreamReader& xml) {
  FileNote note;
  while (xml.readNextStartElement()) {
    if (xml.name() == u"rest") note.rest = true;
    if (xml.name() == u"dot") ++note.dots;
    if (xml.name() == u"pitch") {
      while (xml.readNextStartElement()) {
        const QString name = xml.name().toString();
        const QString text = xml.readElementText();
        if (name == "step") note.step = text;
        if (name == "octave") note.octave = text.toInt();
      }
    } else if (xml.name() == u"staff") {
      note.staff = xml.readElementText().toInt();
    } else if (xml.name() == u"type") {
      note.type = xml.readElementText();
    } else {
      xml.skipCurrentElement();
    }
  }
  return note;
}

// Notes of each bar of a file, in order of bars.
std::vector<std::multiset<Seen>> bars_of_file(const std::string& path) {
  QFile file(QString::fromStdString(path));
  EXPECT_TRUE(file.open(QIODevice::ReadOnly));
  QXmlStreamReader xml(&file);
  std::vector<std::multiset<Seen>> bars;
  while (!xml.atEnd()) {
    xml.readNext();
    if (!xml.isStartElement()) continue;
    if (xml.name() == u"measure") bars.emplace_back();
    if (xml.name() != u"note") continue;
    const FileNote note = read_note(xml);
    if (note.rest) continue;
    const int place =
        note.octave * 7 + static_cast<int>(QStringLiteral("CDEFGAB").indexOf(note.step));
    bars.back().insert({note.staff - 1, place, value_named(note.type), note.dots});
  }
  return bars;
}

std::multiset<Seen> bar_written(const WrittenBar& bar) {
  std::multiset<Seen> seen;
  for (std::size_t staff = 0; staff < bar.staves.size(); ++staff)
    for (const WrittenVoice& voice : bar.staves[staff].voices)
      for (const WrittenChord& chord : voice.chords)
        for (const WrittenHead& head : chord.heads)
          seen.insert({static_cast<int>(staff), head.place, chord.value, chord.dots});
  return seen;
}

class DemoHymn : public ::testing::TestWithParam<const char*> {};

TEST_P(DemoHymn, IsWrittenAsInItsFile) {
  const std::string path = kDemo + GetParam();
  const auto read = music::read_score(path);
  ASSERT_TRUE(read.ok());
  const auto expected = bars_of_file(path);
  const StaffPlan plan(read->score);
  ASSERT_EQ(plan.staves(), 2);
  EXPECT_EQ(plan.clef(0), Clef::treble);
  EXPECT_EQ(plan.clef(1), Clef::bass);
  ASSERT_EQ(read->score.bars.size(), expected.size());
  for (std::size_t bar = 0; bar < expected.size(); ++bar)
    EXPECT_EQ(bar_written(write_bar(read->score, plan, bar)), expected[bar]) << "bar " << bar;
}

TEST_P(DemoHymn, EveryBarIsLaidOutWithinItsPicture) {
  const auto read = music::read_score(kDemo + GetParam());
  ASSERT_TRUE(read.ok());
  for (std::size_t bar = 0; bar < read->score.bars.size(); ++bar) {
    const BarPicture picture = lay_out_bars(read->score, bar, 1);
    std::set<int> notes;
    for (const PlacedHead& head : picture.heads) {
      notes.insert(head.note);
      EXPECT_GT(head.x, 0);
      EXPECT_LT(head.x, picture.width);
      EXPECT_GT(head.y, 0);
      EXPECT_LT(head.y, picture.height);
    }
    const music::Bar& b = read->score.bars[bar];
    const auto begins = static_cast<std::size_t>(
        std::count_if(read->score.notes.begin(), read->score.notes.end(), [&](const auto& note) {
          return note.onset < b.start + b.length && note.onset + note.length > b.start;
        }));
    EXPECT_EQ(notes.size(), begins);
    for (const PlacedBeam& beam : picture.beams) EXPECT_LT(beam.x1, beam.x2);
  }
}

INSTANTIATE_TEST_SUITE_P(All, DemoHymn,
                         ::testing::Values("azmon.musicxml", "evening.musicxml",
                                           "old-hundredth.musicxml"));

constexpr Tick kQuarter = kTicksPerQuarter;

music::Score small_score(std::vector<music::Note> notes, int fifths = 0) {
  music::Score score;
  score.notes = std::move(notes);
  score.bars = {{0, 4 * kQuarter, "1", 4, 4, false},
                {4 * kQuarter, 4 * kQuarter, "2", 4, 4, false}};
  score.keys = {{0, fifths, false}};
  score.voices = 1;
  score.staves = 1;
  score.length = 8 * kQuarter;
  return score;
}

// Common practice: an accidental holds to the end of its bar, and a natural takes it back.
TEST(WrittenBar, AnAccidentalHoldsToTheEndOfItsBar) {
  const music::Score score = small_score({{0, kQuarter, 66, 0, 0},
                                          {kQuarter, kQuarter, 66, 0, 0},
                                          {2 * kQuarter, 2 * kQuarter, 65, 0, 0},
                                          {4 * kQuarter, kQuarter, 66, 0, 0}});
  const StaffPlan plan(score);
  const auto signs = [&](std::size_t bar) {
    std::vector<Accidental> out;
    const WrittenBar written = write_bar(score, plan, bar);
    for (const WrittenChord& chord : written.staves[0].voices[0].chords)
      for (const WrittenHead& head : chord.heads) out.push_back(head.accidental);
    return out;
  };
  using A = Accidental;
  EXPECT_EQ(signs(0), (std::vector{A::sharp, A::none, A::natural}));
  EXPECT_EQ(signs(1), (std::vector{A::sharp}));
}

TEST(WrittenBar, KeySignaturesSpareTheirAccidentals) {
  // G major: F sharp needs none. F major: B flat needs none, B a natural.
  const music::Score sharps = small_score({{0, 4 * kQuarter, 66, 0, 0}}, 1);
  EXPECT_EQ(
      write_bar(sharps, StaffPlan(sharps), 0).staves[0].voices[0].chords[0].heads[0].accidental,
      Accidental::none);
  const music::Score flats =
      small_score({{0, 2 * kQuarter, 70, 0, 0}, {2 * kQuarter, 2 * kQuarter, 71, 0, 0}}, -1);
  const auto chords = write_bar(flats, StaffPlan(flats), 0).staves[0].voices[0].chords;
  EXPECT_EQ(chords[0].heads[0].accidental, Accidental::none);
  EXPECT_EQ(chords[1].heads[0].accidental, Accidental::natural);
}

// Every note's pieces add up to what sounds, tied over bar lines; rests fill the remainder.
TEST(WrittenBar, WhatCrossesTheBarLineIsTiedAndTheRestIsFilled) {
  const music::Score score = small_score({{2 * kQuarter, 3 * kQuarter, 67, 0, 0}});
  const StaffPlan plan(score);
  const auto first = write_bar(score, plan, 0).staves[0].voices[0].chords;
  ASSERT_EQ(first.size(), 2U);
  EXPECT_TRUE(first[0].heads.empty());
  EXPECT_EQ(first[0].length, 2 * kQuarter);
  EXPECT_TRUE(first[1].heads[0].tie_to);
  const auto second = write_bar(score, plan, 1).staves[0].voices[0].chords;
  EXPECT_TRUE(second[0].heads[0].tie_from);
  EXPECT_FALSE(second[0].heads[0].tie_to);
  Tick sum = 0;
  for (const WrittenChord& chord : second) sum += chord.length;
  EXPECT_EQ(sum, 4 * kQuarter);
}

TEST(WrittenBar, QuaversOfOneBeatAreBeamedAndOfTwoBeatsAreNot) {
  const Tick eighth = kQuarter / 2;
  const music::Score beat = small_score({{0, eighth, 67, 0, 0}, {eighth, eighth, 69, 0, 0}});
  EXPECT_EQ(lay_out_bars(beat, 0, 1).beams.size(), 1U);
  const music::Score across =
      small_score({{eighth, eighth, 67, 0, 0}, {2 * eighth, eighth, 69, 0, 0}});
  EXPECT_TRUE(lay_out_bars(across, 0, 1).beams.empty());
}

}  // namespace
}  // namespace loftbeat::window
