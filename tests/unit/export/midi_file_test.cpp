// What is exported as a MIDI file is read back as the same score, as far as such a file goes.

#include <gtest/gtest.h>

#include <map>

#include "hymns.h"

namespace loftbeat::music {
namespace {

using Sounding = std::tuple<Tick, int, Tick>;

std::vector<Sounding> sounding(const Score& score) {
  std::vector<Sounding> all;
  for (const Note& note : score.notes) all.emplace_back(note.onset, note.pitch, note.length);
  std::sort(all.begin(), all.end());
  return all;
}

std::vector<Tick> bar_starts(const Score& score) {
  std::vector<Tick> starts;
  for (const Bar& bar : score.bars) starts.push_back(bar.start);
  return starts;
}

// Bars after the last note are not in a MIDI file.
void leave_out_silent_end(Score& score) {
  Tick end = 0;
  for (const Note& note : score.notes) end = std::max(end, note.onset + note.length);
  std::erase_if(score.bars, [&](const Bar& bar) { return bar.start >= end; });
}

bool has_lines_of_words(const Score& score) {
  return score.phrase_source == PhraseSource::lyric_lines && !score.words.empty() &&
         score.words.front().verse == 1;
}

TEST(MidiExport, IsReadBackWithTheSameNotesBarsAndKeys) {
  int hymns = 0;
  for (auto& [name, score] : all_our_scores()) {
    SCOPED_TRACE(name);
    const std::string bytes = format_smf_score(score);
    const auto read = parse_smf_score(bytes, "written");
    ASSERT_TRUE(read) << to_string(read.error());
    leave_out_silent_end(score);
    EXPECT_EQ(sounding(read->score), sounding(score));
    EXPECT_EQ(bar_starts(read->score), bar_starts(score));
    EXPECT_EQ(read->score.keys, score.keys);
    EXPECT_EQ(read->score.title, score.title);
    // Only what changes the tempo is read.
    const auto same_tempo = [](const TempoMark& a, const TempoMark& b) {
      return a.quarters_per_minute == b.quarters_per_minute;
    };
    score.tempi.erase(std::unique(score.tempi.begin(), score.tempi.end(), same_tempo),
                      score.tempi.end());
    ASSERT_EQ(read->score.tempi.size(), score.tempi.size());
    for (std::size_t i = 0; i < score.tempi.size(); ++i) {
      EXPECT_EQ(read->score.tempi[i].at, score.tempi[i].at);
      // A tempo is written in whole microseconds.
      EXPECT_NEAR(read->score.tempi[i].quarters_per_minute, score.tempi[i].quarters_per_minute,
                  1e-6 * score.tempi[i].quarters_per_minute * score.tempi[i].quarters_per_minute);
    }
    if (name.rfind("hymn", 0) != 0) continue;
    ++hymns;
    EXPECT_EQ(read->score.bars.front().pickup, score.bars.front().pickup);
    EXPECT_EQ(read->score.bars.back().beats, score.bars.back().beats);
    std::map<int, int> voices;
    for (const Note& note : score.notes) ++voices[note.voice];
    std::map<int, int> back;
    for (const Note& note : read->score.notes) ++back[note.voice];
    EXPECT_EQ(back, voices);
  }
  EXPECT_GE(hymns, 20);
}

TEST(MidiExport, KeepsTheLinesOfTheWords) {
  int with_words = 0;
  for (auto& [name, score] : all_our_scores()) {
    if (!has_lines_of_words(score)) continue;
    SCOPED_TRACE(name);
    const auto read = parse_smf_score(format_smf_score(score), "written");
    ASSERT_TRUE(read) << to_string(read.error());
    EXPECT_EQ(read->score.phrases.size(), score.phrases.size());
    ++with_words;
  }
  EXPECT_GE(with_words, 3);
}

}  // namespace
}  // namespace loftbeat::music
