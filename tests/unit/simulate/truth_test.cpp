#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "simulate/truth_json.h"
#include "stage.h"

namespace loftbeat::simulate {
namespace {

bool same_events(const take::Take& a, const take::Take& b) {
  return std::equal(a.events.begin(), a.events.end(), b.events.begin(), b.events.end(),
                    [](const take::Event& x, const take::Event& y) {
                      return x.at == y.at && x.kind == y.kind && x.channel == y.channel &&
                             x.data1 == y.data1 && x.data2 == y.data2;
                    });
}

// Every key message belongs to one true note and the other way round.
void expect_notes_and_events_agree(const Performance& played) {
  std::multiset<std::tuple<Instant, int, int, bool>> keys;
  for (const take::Event& event : played.take.events) {
    if (event.kind == take::EventKind::note_on || event.kind == take::EventKind::note_off) {
      keys.insert({event.at, event.channel, event.data1, event.kind == take::EventKind::note_on});
    }
  }
  EXPECT_EQ(keys.size(), 2 * played.truth.notes.size());
  for (const TrueNote& note : played.truth.notes) {
    EXPECT_EQ(keys.count({note.on, note.channel, note.pitch, true}), 1u);
    EXPECT_GE(keys.count({note.off, note.channel, note.pitch, false}), 1u);
  }
}

// No key is struck while it is down.
void expect_keys_are_free(const Performance& played) {
  std::map<std::pair<int, int>, Instant> up;
  for (const TrueNote& note : played.truth.notes) {
    EXPECT_LT(note.on, note.off);
    auto& free = up[{note.channel, note.pitch}];
    EXPECT_GE(note.on, free);
    free = note.off;
  }
}

void expect_every_score_note_is_accounted_for(const music::Score& score,
                                              const Performance& played) {
  for (std::size_t p = 0; p < played.truth.passes.size(); ++p) {
    std::map<int, int> times;
    const int pass = static_cast<int>(p);
    for (const TrueNote& note : played.truth.notes) {
      if (note.pass == pass && note.score >= 0 && !note.superseded) ++times[note.score];
    }
    for (const TrueAbsence& gone : played.truth.missed) times[gone.score] += gone.pass == pass;
    for (const TrueAbsence& gone : played.truth.held) times[gone.score] += gone.pass == pass;
    for (std::size_t n = 0; n < score.notes.size(); ++n) {
      const auto voice = static_cast<std::size_t>(score.notes[n].voice);
      const bool meant =
          std::any_of(played.truth.passes[p].spans.begin(), played.truth.passes[p].spans.end(),
                      [&](const TickSpan& span) { return span.contains(score.notes[n].onset); });
      if (!meant || !played.truth.passes[p].voices[voice]) continue;
      EXPECT_EQ(times[static_cast<int>(n)], 1) << "pass " << p << " note " << n;
    }
  }
}

TEST(Truth, SameSeedGivesTheSameBytes) {
  const ModelCase rough = rough_player(3);
  const auto first = play(rough);
  const auto again = play(rough);
  ASSERT_TRUE(first.ok() && again.ok());
  EXPECT_TRUE(same_events(first->performance.take, again->performance.take));
  EXPECT_EQ(format_truth(first->performance.truth, rough.score),
            format_truth(again->performance.truth, rough.score));
}

TEST(Truth, AnotherSeedGivesAnotherTake) {
  Scene made = scene();
  made.player.onset.jitter_ms = 10;
  EXPECT_FALSE(same_events(made.play(1).take, made.play(2).take));
}

class TruthOfRoughPlayers : public testing::TestWithParam<std::uint64_t> {};

TEST_P(TruthOfRoughPlayers, IsConsistent) {
  const ModelCase rough = rough_player(GetParam());
  const auto taken = play(rough);
  ASSERT_TRUE(taken.ok());
  const Performance& played = taken->performance;
  expect_notes_and_events_agree(played);
  expect_keys_are_free(played);
  expect_every_score_note_is_accounted_for(rough.score, played);
  for (const TrueJoin& join : played.truth.joins) {
    EXPECT_NEAR(join.silence_s, seconds(join.next_onset - join.last_release), 1e-9);
    EXPECT_NEAR(join.hold_beats + join.lift_beats, join.span_beats, 1e-9);
  }
}

INSTANTIATE_TEST_SUITE_P(Seeds, TruthOfRoughPlayers, testing::Range<std::uint64_t>(1, 21));

// Without habits and faults everything falls exactly where arithmetic puts it.
TEST(Truth, TheMachinePlaysByTheClock) {
  Scene made = scene();
  const Performance played = made.play();
  ASSERT_EQ(played.truth.passes.size(), 4u);
  EXPECT_TRUE(played.truth.missed.empty());
  const TruePass& first = played.truth.passes.front();
  for (const TrueOnset& onset : first.onsets) {
    EXPECT_NEAR(seconds(onset.median), 1.5 + quarters(onset.tick), 1e-6);
    EXPECT_EQ(onset.first, onset.median);
  }
  for (const TrueJoin& join : played.truth.joins) {
    EXPECT_NEAR(join.span_beats, 4, 1e-6);
    EXPECT_NEAR(join.hold_beats, 3, 1e-6);
    EXPECT_NEAR(join.silence_s, 1, 1e-6);
  }
}

TEST(Truth, LabelsCountVerses) {
  const Performance played = scene().play();
  std::vector<std::string> labels;
  for (const TruePass& pass : played.truth.passes) labels.push_back(pass.label);
  EXPECT_EQ(labels, (std::vector<std::string>{"play-over", "1", "2", "3"}));
}

TEST(Truth, IsWrittenAsJsonWithAllItsParts) {
  const Scene made = scene();
  const std::string text = format_truth(made.play().truth, made.score);
  for (const char* key : {"\"format\": \"loftbeat-truth\"", "\"passes\"", "\"joins\"", "\"notes\"",
                          "\"missed\"", "\"held\"", "\"stop_moves\"", "\"faults\""}) {
    EXPECT_NE(text.find(key), std::string::npos) << key;
  }
}

}  // namespace
}  // namespace loftbeat::simulate
