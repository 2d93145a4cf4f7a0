// MusicXML reading against an independent converter.
//
// Source: each score beside this file was converted to MIDI by the notation program MuseScore
// (Debian package and version in the head of each table) and listed by midicsv; what came out is
// frozen in the table of the same name. tools/fixtures/make-musicxml-fixtures makes them again.

#include <gtest/gtest.h>

#include <algorithm>
#include <charconv>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <tuple>

#include "music/read.h"

namespace loftbeat::music {
namespace {

// The converter counts 480 ticks to the quarter, so a place may be half a tick off; it ends every
// note one tick early.
constexpr double kConverterTick = 1.0 / 480.0;
constexpr double kHalfTick = 0.5 * kConverterTick + 1e-6;

struct Row {
  std::string kind;
  double at = 0;
  double value = 0;  // length of a note, tempo of a tempo mark
  int key = 0;
};

std::vector<Row> read_table(const std::filesystem::path& path) {
  std::ifstream file(path);
  std::vector<Row> rows;
  for (std::string line; std::getline(file, line);) {
    if (line.empty() || line.front() == '#') continue;
    std::replace(line.begin(), line.end(), ',', ' ');
    std::istringstream fields(line);
    Row row;
    fields >> row.kind >> row.at >> row.value >> row.key;
    rows.push_back(row);
  }
  return rows;
}

std::vector<Row> of_kind(const std::vector<Row>& rows, const std::string& kind) {
  std::vector<Row> some;
  std::copy_if(rows.begin(), rows.end(), std::back_inserter(some),
               [&](const Row& row) { return row.kind == kind; });
  return some;
}

std::vector<std::string> score_names() {
  std::vector<std::string> names;
  const std::filesystem::path folder = LOFTBEAT_SOURCE_DIR "/tests/reference/musicxml";
  for (const auto& entry : std::filesystem::directory_iterator(folder)) {
    if (entry.path().extension() == ".musicxml") names.push_back(entry.path().stem().string());
  }
  std::sort(names.begin(), names.end());
  return names;
}

class Converter : public testing::TestWithParam<std::string> {
 protected:
  void SetUp() override {
    const std::string stem = LOFTBEAT_SOURCE_DIR "/tests/reference/musicxml/" + GetParam();
    auto read = read_score(stem + ".musicxml");
    ASSERT_TRUE(read) << to_string(read.error());
    EXPECT_TRUE(read->notices.empty());
    score_ = std::move(read->score);
    rows_ = read_table(stem + ".csv");
  }
  Score score_;
  std::vector<Row> rows_;
};

TEST_P(Converter, SoundsTheSameNotes) {
  std::vector<Row> theirs = of_kind(rows_, "note");
  std::vector<Note> ours = score_.notes;
  ASSERT_FALSE(theirs.empty());
  ASSERT_EQ(ours.size(), theirs.size());
  std::sort(ours.begin(), ours.end(), [](const Note& a, const Note& b) {
    return std::tie(a.onset, a.pitch, a.length) < std::tie(b.onset, b.pitch, b.length);
  });
  std::sort(theirs.begin(), theirs.end(), [](const Row& a, const Row& b) {
    return std::tie(a.at, a.key, a.value) < std::tie(b.at, b.key, b.value);
  });
  for (std::size_t i = 0; i < ours.size(); ++i) {
    SCOPED_TRACE("note " + std::to_string(i) + " at quarter " + std::to_string(theirs[i].at));
    EXPECT_NEAR(quarters(ours[i].onset), theirs[i].at, kHalfTick);
    EXPECT_EQ(ours[i].pitch, theirs[i].key);
    EXPECT_NEAR(quarters(ours[i].length), theirs[i].value + kConverterTick, 2 * kHalfTick);
  }
}

// The converter writes the tempo again at each jump, up to a tick before it, and 120 where the
// score says nothing.
TEST_P(Converter, KeepsTheSameTempo) {
  const std::vector<Row> tempi = of_kind(rows_, "tempo");
  ASSERT_FALSE(tempi.empty());
  for (const Row& row : tempi) {
    double ours = 120;
    for (const TempoMark& mark : score_.tempi) {
      if (quarters(mark.at) <= row.at + 2 * kConverterTick) ours = mark.quarters_per_minute;
    }
    EXPECT_NEAR(ours, row.value, 0.001) << "at quarter " << row.at;
  }
}

INSTANTIATE_TEST_SUITE_P(Scores, Converter, testing::ValuesIn(score_names()),
                         [](const auto& name) { return name.param; });

}  // namespace
}  // namespace loftbeat::music
