// What is exported, as other programs read it.
//
// Source: each MusicXML file beside this one was written by Loftbeat, converted to MIDI by the
// notation program MuseScore (Debian package and version in the head of each table) and listed by
// midicsv; what came out is frozen in the table of the same name.
// tools/fixtures/make-musicxml-fixtures --export PROGRAM makes them again.
// MIDI files are listed by midicsv (Debian package midicsv 1.1) on the spot.

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <map>
#include <set>
#include <tuple>

#include <unistd.h>

#include "../smf/tool.h"
#include "sources.h"

namespace loftbeat::music {
namespace {

constexpr double kExportTick = 1.0 / 480;  // of the converter, which ends every note one tick early

struct Heard {
  double onset = 0;
  double length = 0;
  int key = 0;
};

// Rows "note,onset,length,key".
std::vector<Heard> frozen_notes(const std::string& path) {
  std::ifstream file(path);
  std::vector<Heard> notes;
  for (std::string line; std::getline(file, line);) {
    if (line.rfind("note,", 0) != 0) continue;
    std::replace(line.begin(), line.end(), ',', ' ');
    std::istringstream fields(line);
    std::string kind;
    Heard note;
    fields >> kind >> note.onset >> note.length >> note.key;
    notes.push_back(note);
  }
  return notes;
}

// One key of an instrument is struck once at a time: unisons of voices are one note there.
struct OneKey {
  std::set<long> lengths;  // in ticks of the converter, of all voices
  bool held = false;       // the key already sounds: struck again or not
};
using Keys = std::map<std::pair<long, int>, OneKey>;

long in_ticks(double quarters) { return std::lround(quarters * 480); }

Keys keys_of(const Score& score) {
  Keys keys;
  for (const Note& note : score.notes)
    keys[{in_ticks(quarters(note.onset)), note.pitch}].lengths.insert(
        in_ticks(quarters(note.length)));
  for (auto& [at, key] : keys) {
    key.held = std::any_of(score.notes.begin(), score.notes.end(), [&](const Note& note) {
      const long begin = in_ticks(quarters(note.onset));
      return note.pitch == at.second && begin < at.first &&
             at.first < begin + in_ticks(quarters(note.length));
    });
  }
  return keys;
}

class Exported : public testing::TestWithParam<ExportSource> {
 protected:
  void SetUp() override {
    auto read = read_score(GetParam().path);
    ASSERT_TRUE(read) << to_string(read.error());
    score_ = std::move(read->score);
  }
  Score score_;
};

// Otherwise the tables say nothing of what is written now.
TEST_P(Exported, IsWhatWasConverted) {
  const auto kept = read_file(kExportFolder + GetParam().name + ".musicxml");
  ASSERT_TRUE(kept.ok());
  EXPECT_TRUE(format_musicxml(score_) == *kept)
      << "the writer has changed: make the tables again with tools/fixtures/make-musicxml-fixtures";
}

TEST_P(Exported, SoundsTheSameInANotationProgram) {
  Keys ours = keys_of(score_);
  const std::vector<Heard> theirs = frozen_notes(kExportFolder + GetParam().name + ".csv");
  ASSERT_FALSE(theirs.empty());
  for (const Heard& note : theirs) {
    const auto found = ours.find({in_ticks(note.onset), note.key});
    if (found == ours.end()) {
      ADD_FAILURE() << "only there: key " << note.key << " at quarter " << note.onset;
      continue;
    }
    const long length = in_ticks(note.length + kExportTick);
    const std::set<long>& lengths = found->second.lengths;
    const bool fits = std::any_of(lengths.begin(), lengths.end(),
                                  [&](long ours_is) { return std::abs(ours_is - length) <= 1; });
    EXPECT_TRUE(fits || found->second.held)
        << "key " << note.key << " at quarter " << note.onset << " lasts " << note.length;
    ours.erase(found);
  }
  std::erase_if(ours, [](const auto& entry) { return entry.second.held; });
  for (const auto& [at, key] : ours)
    ADD_FAILURE() << "missing there: key " << at.second << " at tick " << at.first;
}

using Listed = std::tuple<long, long, int>;  // onset, end, key

// Notes as midicsv lists them, in its file's ticks.
std::vector<Listed> notes_of_list(const std::string& list, long& division) {
  std::map<std::tuple<int, int, int>, std::vector<long>> open;
  std::vector<Listed> notes;
  std::istringstream lines(list);
  for (std::string line; std::getline(lines, line);) {
    std::replace(line.begin(), line.end(), ',', ' ');
    std::istringstream fields(line);
    int track = 0;
    long tick = 0;
    std::string kind;
    int channel = 0;
    int key = 0;
    int velocity = 0;
    fields >> track >> tick >> kind >> channel >> key >> velocity;
    if (kind == "Header") division = velocity;
    if (kind != "Note_on_c" && kind != "Note_off_c") continue;
    std::vector<long>& waiting = open[{track, channel, key}];
    if (kind == "Note_on_c" && velocity > 0) {
      waiting.push_back(tick);
    } else if (!waiting.empty()) {
      notes.emplace_back(waiting.front(), tick, key);
      waiting.erase(waiting.begin());
    }
  }
  std::sort(notes.begin(), notes.end());
  return notes;
}

TEST_P(Exported, IsListedByAnotherReaderOfMidiFiles) {
  const std::string path =
      testing::TempDir() + "loftbeat-" + std::to_string(::getpid()) + GetParam().name + ".mid";
  ASSERT_TRUE(write_file(path, format_smf_score(score_)).ok());
  const auto list = output_of("midicsv '" + path + "'");
  std::filesystem::remove(path);
  if (!list && may_miss_tools()) GTEST_SKIP() << "midicsv is not installed";
  ASSERT_TRUE(list) << "midicsv is needed: run tools/setup, or set LOFTBEAT_ALLOW_MISSING_TOOLS";
  long division = 0;
  const std::vector<Listed> theirs = notes_of_list(*list, division);
  ASSERT_GT(division, 0);
  std::vector<Listed> ours;
  for (const Note& note : score_.notes)
    ours.emplace_back(note.onset * division / kTicksPerQuarter,
                      (note.onset + note.length) * division / kTicksPerQuarter, note.pitch);
  std::sort(ours.begin(), ours.end());
  EXPECT_EQ(theirs, ours);
}

INSTANTIATE_TEST_SUITE_P(Scores, Exported, testing::ValuesIn(export_sources()),
                         [](const auto& named) { return named.param.name; });

}  // namespace
}  // namespace loftbeat::music
