// The walk on cases small enough to say beforehand where every note stands.

#include "follow/lattice.h"

#include <gtest/gtest.h>

#include <algorithm>

#include "follow/heard.h"
#include "follow/walk.h"
#include "scenes.h"

namespace loftbeat::test {
namespace {

TEST(Walk, StraightPlayingGoesStraightOn) {
  const auto chords = sixteen_chords();
  const music::Score score = crotchets(chords);
  take::CleanTake take;
  play(take, chords, 0, chords.size(), 1.0, 1.0);
  sort(take);
  const follow::OnsetTable table(score, {});
  const follow::Lattice lattice(table, {{0}, {}, 1e9 / kTicksPerQuarter});
  const auto notes = follow::hear_notes(take, Nanoseconds{8'000'000'000});
  const auto way = follow::walk(lattice, notes);
  ASSERT_EQ(way.size(), 64u);
  for (std::size_t n = 0; n < way.size(); ++n) EXPECT_EQ(way[n].onset, static_cast<int>(n / 4));
}

// A take longer than one block of traces is walked in pieces; the pieces must join.
TEST(Walk, BlocksJoin) {
  const auto chords = sixteen_chords();
  const music::Score score = crotchets(chords);
  take::CleanTake take;
  double at = 1;
  for (int verse = 0; verse < 40; ++verse) at = play(take, chords, 0, 16, at, 0.5) + 1;
  sort(take);
  const follow::OnsetTable table(score, {});
  const follow::Lattice lattice(table, {{0}, {{15, 0, -1, true}}, 0.5e9 / kTicksPerQuarter});
  const auto notes = follow::hear_notes(take, Nanoseconds{8'000'000'000});
  const auto whole = follow::walk(lattice, notes);
  const auto pieces = follow::walk(lattice, notes, {.block_notes = 97});
  ASSERT_EQ(whole.size(), pieces.size());
  for (std::size_t n = 0; n < whole.size(); ++n) {
    EXPECT_EQ(whole[n].onset, static_cast<int>((n / 4) % 16));
    EXPECT_EQ(whole[n].onset, pieces[n].onset) << n;
  }
}

// A column holds, for each state, the best score of any way to it.
TEST(Walk, NoWayThroughIsBetterThanTheBestState) {
  const std::vector<std::vector<int>> chords = {{67}, {69}, {71}, {72}};
  const music::Score score = crotchets(chords);
  const follow::OnsetTable table(score, {});
  const follow::Lattice lattice(table, {{0}, {}, 1e9 / kTicksPerQuarter});
  take::CleanTake take;
  for (int k = 0; k < 4; ++k)
    strike(take, 1.0 + k, 1.9 + k, chords[static_cast<std::size_t>(k)][0]);
  const auto notes = follow::hear_notes(take, Nanoseconds{8'000'000'000});
  std::vector<std::uint8_t> codes(lattice.states());
  follow::Trace trace{codes, 0};
  follow::Column column;
  follow::Column next;
  lattice.begin(notes[0], column, trace);
  EXPECT_EQ(column.best, 0u);
  for (std::size_t n = 1; n < notes.size(); ++n) {
    lattice.step(column, notes[n], next, trace);
    std::swap(column, next);
    EXPECT_EQ(column.best, static_cast<std::uint32_t>(n));
    EXPECT_EQ(column.cells[column.best].score, 0);
    for (std::uint32_t state : column.active) EXPECT_LE(column.cells[state].score, 0);
    // The speed carried is the true one: a crotchet a second.
    EXPECT_NEAR(column.cells[column.best].ns_per_tick, 1e9 / kTicksPerQuarter, 1);
  }
}

}  // namespace
}  // namespace loftbeat::test
