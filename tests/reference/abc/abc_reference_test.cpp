// Our reading of ABC against Debian's abc2midi 4.84, note for note.
// Source: what abc2midi (package abcmidi) writes as a MIDI file, read by src/music/smf_file.h,
// which has tests of its own against two other readers.

#include <gtest/gtest.h>

#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <map>
#include <set>

#include "../smf/tool.h"
#include "music/music.h"
#include "other_reader.h"

namespace loftbeat::music {
namespace {

const std::string kTunes = LOFTBEAT_SOURCE_DIR "/tests/reference/abc/tunes/";

std::vector<std::string> abc_files(const std::string& folder) {
  std::vector<std::string> files;
  for (const auto& entry : std::filesystem::recursive_directory_iterator(folder)) {
    if (entry.path().extension() == ".abc") files.push_back(entry.path().string());
  }
  std::sort(files.begin(), files.end());
  return files;
}

// Files of ours that abc2midi plays otherwise, and why that is right: what the two have in common.
struct Difference {
  std::size_t same;
  std::size_t only_there;
  const char* why;
};

const std::map<std::string, Difference> kDifferences = {
    {"breath",
     {12, 1,
      "abc2midi halves a note with a breath mark; to the standard (4.14) the mark is "
      "a sign in print and the note keeps its written length"}},
    {"da_capo",
     {20, 0,
      "abc2midi passes D.C. over; we go back and end at Fine, as musicians do (the "
      "standard, 4.14, has the words as decorations only)"}},
    {"ornaments",
     {5, 26, "abc2midi plays trills and rolls out; ornaments are left out of a score"}},
    {"staccato", {6, 2, "abc2midi halves staccato notes; the standard (4.14) states no length"}},
    {"tie_into_endings",
     {12, 1,
      "abc2midi forgets a tie into the second ending and lets the first one "
      "sound too long; a tie written before the endings leads into each"}},
    {"tuplets_after_change",
     {4, 7,
      "abc2midi goes by the metre of the header; by the standard (4.13) five notes have the time "
      "of three where the metre is compound, which it is from there on"}},
};

struct OwnTune {
  std::string file;  // without its ending
  int number = 0;
};

std::vector<OwnTune> own_tunes() {
  std::vector<OwnTune> tunes;
  for (const std::string& path : abc_files(kTunes)) {
    const auto list = list_abc_tunes(*read_file(path), path);
    if (!list) continue;
    for (const AbcTune& tune : *list) {
      tunes.push_back({std::filesystem::path(path).stem().string(), tune.number});
    }
  }
  return tunes;
}

class OwnAbc : public testing::TestWithParam<OwnTune> {};

TEST_P(OwnAbc, SoundsAsAbc2midiPlaysIt) {
  const auto bytes = read_file(kTunes + GetParam().file + ".abc");
  ASSERT_TRUE(bytes.ok());
  const auto ours = parse_abc(*bytes, GetParam().file, GetParam().number);
  ASSERT_TRUE(ours.ok()) << to_string(ours.error());
  EXPECT_TRUE(ours->notices.empty()) << to_string(ours->notices.front());
  const auto other = read_with_abc2midi(*bytes, GetParam().number);
  if (!other && may_miss_tools()) GTEST_SKIP() << "abc2midi is not installed";
  ASSERT_TRUE(other) << "abc2midi (Debian package abcmidi) is needed: run tools/setup, or set "
                        "LOFTBEAT_ALLOW_MISSING_TOOLS to go without";
  EXPECT_EQ(other->errors, "");
  const Agreement agreement = compare(ours->score, *other);
  const auto difference = kDifferences.find(GetParam().file);
  if (difference == kDifferences.end()) {
    EXPECT_TRUE(agreement.complete()) << agreement.first;
    return;
  }
  EXPECT_EQ(agreement.same, difference->second.same) << difference->second.why;
  EXPECT_EQ(agreement.only_there, difference->second.only_there) << difference->second.why;
}

INSTANTIATE_TEST_SUITE_P(Tunes, OwnAbc, testing::ValuesIn(own_tunes()), [](const auto& named) {
  return named.param.file + "_" + std::to_string(named.param.number);
});

// The text with the staccato dots of its notes taken away.
std::string without_staccato(const std::string& bytes) {
  std::string text;
  for (std::size_t i = 0; i < bytes.size(); ++i) {
    const char next = i + 1 < bytes.size() ? bytes[i + 1] : ' ';
    const bool note = (next >= 'A' && next <= 'G') || (next >= 'a' && next <= 'g') || next == '[';
    if (bytes[i] == '.' && note && (i == 0 || bytes[i - 1] == ' ' || bytes[i - 1] == '|')) continue;
    text += bytes[i];
  }
  return text;
}

// abc2midi halves staccato notes, we keep their written length: onsets and pitches are the same,
// and without the dots nothing differs.
TEST(AbcStaccato, IsAllThatDiffersInItsTune) {
  const auto bytes = read_file(kTunes + "staccato.abc");
  ASSERT_TRUE(bytes.ok());
  const auto plain = read_with_abc2midi(without_staccato(*bytes), 17);
  if (!plain && may_miss_tools()) GTEST_SKIP() << "abc2midi is not installed";
  ASSERT_TRUE(plain);
  const auto dotted = read_with_abc2midi(*bytes, 17);
  ASSERT_TRUE(dotted);
  const auto ours = parse_abc(*bytes, "staccato.abc");
  ASSERT_TRUE(ours.ok());
  EXPECT_TRUE(compare(ours->score, *plain).complete()) << compare(ours->score, *plain).first;
  ASSERT_EQ(dotted->tracks.size(), 1u);
  ASSERT_EQ(plain->tracks.size(), 1u);
  ASSERT_EQ(dotted->tracks[0].size(), plain->tracks[0].size());
  int halved = 0;
  for (std::size_t i = 0; i < plain->tracks[0].size(); ++i) {
    const OtherReading::Sound& whole = plain->tracks[0][i];
    const OtherReading::Sound& there = dotted->tracks[0][i];
    EXPECT_EQ(there.onset, whole.onset);
    EXPECT_EQ(there.pitch, whole.pitch);
    if (there.end == whole.end) continue;
    EXPECT_NEAR(static_cast<double>(there.end - there.onset),
                static_cast<double>(whole.end - whole.onset) / 2, 1.0);
    ++halved;
  }
  EXPECT_EQ(halved, 2);
}

// What the other reader makes nothing of.
TEST(AbcOnlyOurs, AFileWithoutANumberIsATune) {
  const auto bytes = read_file(LOFTBEAT_SOURCE_DIR "/tests/reference/abc/only_ours/no_number.abc");
  ASSERT_TRUE(bytes.ok());
  const auto other = read_with_abc2midi(*bytes, 1);
  EXPECT_TRUE(!other || other->tracks.empty());
  const auto ours = parse_abc(*bytes, "no_number.abc");
  ASSERT_TRUE(ours.ok()) << to_string(ours.error());
  EXPECT_EQ(ours->score.title, "Without a Number");
  EXPECT_EQ(ours->score.notes.size(), 8u);
  EXPECT_EQ(ours->score.bars.size(), 5u);
  EXPECT_EQ(ours->score.fermatas.size(), 1u);
}

// The comparison itself: a note moved, left out or given to another voice is told.
TEST(AbcComparison, TellsWhatDiffers) {
  Score ours;
  ours.notes = {{0, kTicksPerQuarter, 60, 0, 0},
                {kTicksPerQuarter, kTicksPerQuarter, 62, 0, 0},
                {kTicksPerQuarter, kTicksPerQuarter, 55, 1, 0}};
  OtherReading other;
  other.tracks = {{{1, 480, 60}, {481, 960, 62}}, {{481, 960, 55}}};
  EXPECT_TRUE(compare(ours, other).complete());
  OtherReading longer = other;
  longer.tracks[0][1].end = 970;
  EXPECT_EQ(compare(ours, longer).same, 2u);
  EXPECT_EQ(compare(ours, longer).only_there, 1u);
  OtherReading fewer = other;
  fewer.tracks.pop_back();
  EXPECT_EQ(compare(ours, fewer).same, 2u);
  OtherReading moved = other;
  moved.tracks[1].push_back(moved.tracks[0].back());
  moved.tracks[0].pop_back();
  EXPECT_FALSE(compare(ours, moved).voices);
}

struct FolderTally {
  std::size_t tunes = 0;
  std::size_t differing = 0;
  std::size_t staccato = 0;  // of these: the same once staccato dots are taken away
  std::size_t notes = 0;
  std::size_t same = 0;
  std::size_t only_there = 0;
};

void compare_tune(const std::string& path, const std::string& bytes, int number,
                  FolderTally& tally) {
  ++tally.tunes;
  const auto read = parse_abc(bytes, path, number);
  if (!read) {
    ADD_FAILURE() << to_string(read.error());
    return;
  }
  for (const Notice& notice : read->notices) std::printf("  %s\n", to_string(notice).c_str());
  const auto other = read_with_abc2midi(bytes, number);
  if (!other) {
    std::printf("%s X:%d: abc2midi gives nothing\n", path.c_str(), number);
    return;
  }
  const Agreement agreement = compare(read->score, *other);
  tally.notes += agreement.notes;
  tally.same += agreement.same;
  tally.only_there += agreement.only_there;
  if (agreement.complete()) return;
  ++tally.differing;
  const auto plain = read_with_abc2midi(without_staccato(bytes), number);
  if (plain && compare(read->score, *plain).complete()) ++tally.staccato;
  std::printf("%s X:%d: %zu of %zu notes the same, %zu only there; %s\n%s", path.c_str(), number,
              agreement.same, agreement.notes, agreement.only_there, agreement.first.c_str(),
              other->errors.c_str());
}

// Any folder of ABC files, named by LOFTBEAT_ABC_FOLDER: prints how many notes agree, and where the
// first difference of each tune is. Fails only for what we cannot read.
TEST(AbcFolder, IsReadAsAbc2midiReadsIt) {
  const char* folder = std::getenv("LOFTBEAT_ABC_FOLDER");
  if (folder == nullptr) GTEST_SKIP() << "LOFTBEAT_ABC_FOLDER names no folder";
  FolderTally tally;
  for (const std::string& path : abc_files(folder)) {
    const auto bytes = read_file(path);
    ASSERT_TRUE(bytes.ok()) << path;
    const auto list = list_abc_tunes(*bytes, path);
    if (!list) {
      ADD_FAILURE() << to_string(list.error());
      continue;
    }
    std::set<int> seen;
    for (const AbcTune& tune : *list) {
      if (seen.insert(tune.number).second) compare_tune(path, *bytes, tune.number, tally);
    }
  }
  std::printf(
      "%zu tunes, %zu differ, %zu of them by staccato alone; %zu notes, %zu the same, %zu only "
      "there\n",
      tally.tunes, tally.differing, tally.staccato, tally.notes, tally.same, tally.only_there);
}

}  // namespace
}  // namespace loftbeat::music
