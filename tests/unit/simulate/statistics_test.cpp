#include <cmath>

#include "stage.h"

namespace loftbeat::simulate {
namespace {

struct Moments {
  double mean = 0;
  double sd = 0;
  double largest = 0;
  int count = 0;
};

template <typename Value>
Moments moments(const std::vector<TrueNote>& notes, Value value) {
  Moments m;
  double squares = 0;
  for (const TrueNote& note : notes) {
    const double v = value(note);
    m.mean += v;
    squares += v * v;
    m.largest = std::max(m.largest, std::fabs(v));
    ++m.count;
  }
  m.mean /= m.count;
  m.sd = std::sqrt(squares / m.count - m.mean * m.mean);
  return m;
}

double late_ms(const TrueNote& note) { return ms_apart(note.on, note.intended); }

// Bounds at four standard errors of mean and SD of a normal sample (textbook: sd / root n and
// sd / root 2n); the cut normal's SD is 0.98658 of the nominal.
TEST(Statistics, NoteJitterHasTheStatedSpread) {
  Scene made = scene();
  made.player.onset.note_jitter_ms = 25;
  const Moments m = moments(made.play().truth.notes, late_ms);
  ASSERT_GT(m.count, 300);
  const double n = m.count;
  EXPECT_NEAR(m.mean, 0, 4 * 25 / std::sqrt(n));
  EXPECT_NEAR(m.sd, 25 * 0.98658, 4 * 25 / std::sqrt(2 * n));
  EXPECT_LE(m.largest, 75.001);
}

TEST(Statistics, ChordJitterMovesWholeChords) {
  Scene made = scene();
  made.player.onset.jitter_ms = 20;
  for (const TruePass& pass : made.play().truth.passes) {
    for (const TrueOnset& onset : pass.onsets) EXPECT_EQ(onset.first, onset.median);
  }
}

// Evenly spread over a width w the SD is w / root 12 (textbook).
TEST(Statistics, ChordSpreadStaysWithinItsWidth) {
  Scene made = scene();
  made.player.onset.spread_ms = 60;
  const Moments m = moments(made.play().truth.notes, late_ms);
  EXPECT_LE(m.largest, 30.001);
  EXPECT_NEAR(m.sd, 60 / std::sqrt(12.0), 2);
}

TEST(Statistics, RolledChordsRiseFromTheBass) {
  Scene made = scene();
  made.player.onset.spread_ms = 90;
  made.player.onset.spread = SpreadKind::rolled_up;
  const Performance played = made.play();
  const auto& notes = played.truth.notes;
  for (std::size_t i = 1; i < notes.size(); ++i) {
    if (notes[i].tick == notes[i - 1].tick && notes[i].pass == notes[i - 1].pass) {
      EXPECT_GE(notes[i].pitch, notes[i - 1].pitch);
    }
  }
}

// The pulse never leaves the stated band round the set tempo.
TEST(Statistics, WanderStaysWithinItsPercentage) {
  Scene made = scene();
  made.player.tempo.wander_percent = 8;
  double widest = 0;
  for (const TruePass& pass : made.play().truth.passes) {
    for (std::size_t i = 1; i < pass.onsets.size(); ++i) {
      const TrueOnset& a = pass.onsets[i - 1];
      const TrueOnset& b = pass.onsets[i];
      const double factor = quarters(b.tick - a.tick) / seconds(b.intended - a.intended);
      widest = std::max(widest, std::fabs(factor - 1));
    }
  }
  EXPECT_LE(widest, 0.0801);
  EXPECT_GE(widest, 0.03);
}

TEST(Statistics, WrongAndMissedNotesKeepTheirShares) {
  Scene made = scene();
  made.plan.verses = 12;
  made.route = plan::make_route(made.plan, made.score).value();
  made.player.slip.wrong = 0.03;
  made.player.slip.missed = 0.03;
  const Performance played = made.play(4);
  const double all = 13.0 * static_cast<double>(made.score.notes.size());
  int wrong = 0;
  for (const TrueNote& note : played.truth.notes) wrong += note.kind == NoteKind::wrong;
  const double missed = static_cast<double>(played.truth.missed.size()) - wrong;
  const double bound = 4 * std::sqrt(0.03 * 0.97 / all);
  EXPECT_NEAR(wrong / all, 0.03, bound);
  EXPECT_NEAR(missed / all, 0.03, bound);
}

TEST(Statistics, WrongKeysAreNeverOfTheChord) {
  Scene made = scene();
  made.player.slip.wrong = 0.2;
  const Performance played = made.play();
  for (const TrueNote& note : played.truth.notes) {
    if (note.kind != NoteKind::wrong) continue;
    for (const music::Note& in_score : made.score.notes) {
      if (in_score.onset == note.tick) {
        EXPECT_NE(in_score.pitch, note.pitch);
      }
    }
  }
}

}  // namespace
}  // namespace loftbeat::simulate
