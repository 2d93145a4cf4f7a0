// Movements at the stops: grouping, finding their joins, comparing.

#include "timing/stop_moves.h"

#include <random>

#include <gtest/gtest.h>

namespace loftbeat::timing {
namespace {

Instant at_ms(double ms) { return instant_from_seconds(ms / 1000); }

// A join whose chord of 4 beats of 1 s begins at `onset_s` less 4.
JoinMeasures join_at(double onset_s, double span = 4, double planned = 4) {
  JoinMeasures join;
  join.onset_s = onset_s;
  join.last_onset_s = onset_s - span;
  join.release_s = onset_s - 1;
  join.span_beats = span;
  join.planned_span_beats = planned;
  return join;
}

StopMovement movement(double first_s, double last_s) {
  return {0, 1, instant_from_seconds(first_s), instant_from_seconds(last_s)};
}

// Source: the worked number of timing/stop_moves.h.
TEST(StopMovements, WithinAHundredAndFiftyMillisecondsAreOneInclusive) {
  const auto movements = movements_of({at_ms(0), at_ms(150), at_ms(301)});
  ASSERT_EQ(movements.size(), 2u);
  EXPECT_EQ(movements[0].begin, 0u);
  EXPECT_EQ(movements[0].end, 2u);
  EXPECT_EQ(movements[0].last, at_ms(150));
  EXPECT_EQ(movements[1].first, at_ms(301));
}

TEST(StopMovements, ANanosecondMoreIsAnother) {
  const Instant begin = at_ms(1000);
  EXPECT_EQ(movements_of({begin, begin + kOneMovement}).size(), 1u);
  EXPECT_EQ(movements_of({begin, begin + kOneMovement + Nanoseconds(1)}).size(), 2u);
  EXPECT_TRUE(movements_of({}).empty());
}

// Laws: every message once and in order; near neighbours together, far ones apart; moving all of
// them in time changes nothing.
TEST(StopMovements, PartitionTheMessages) {
  std::mt19937_64 random(7);
  for (int round = 0; round < 500; ++round) {
    std::vector<Instant> messages;
    Instant at{};
    const auto count = random() % 40;
    for (std::uint64_t i = 0; i < count; ++i) {
      at += std::chrono::milliseconds(random() % 300);
      messages.push_back(at);
    }
    const auto movements = movements_of(messages);
    std::size_t next = 0;
    for (const StopMovement& one : movements) {
      ASSERT_EQ(one.begin, next);
      ASSERT_GT(one.end, one.begin);
      EXPECT_EQ(one.first, messages[one.begin]);
      EXPECT_EQ(one.last, messages[one.end - 1]);
      for (std::size_t i = one.begin + 1; i < one.end; ++i)
        EXPECT_LE(messages[i] - messages[i - 1], kOneMovement);
      if (one.begin > 0) {
        EXPECT_GT(messages[one.begin] - messages[one.begin - 1], kOneMovement);
      }
      next = one.end;
    }
    EXPECT_EQ(next, messages.size());
    for (Instant& message : messages) message += std::chrono::hours(1);
    EXPECT_EQ(movements_of(messages).size(), movements.size());
  }
}

TEST(PlacedMovements, BelongToTheNearestJoinWithinABar) {
  const std::vector<JoinMeasures> joins = {join_at(20), join_at(60)};
  const auto join_of = [&](double s) {
    return place_movements({movement(s, s)}, joins, 0).front().join;
  };
  EXPECT_EQ(join_of(19.5), 0);
  EXPECT_EQ(join_of(12), 0);  // four beats before the last chord, inclusive
  EXPECT_EQ(join_of(11.99), -1);
  EXPECT_EQ(join_of(24), 0);  // four beats after the entry, inclusive
  EXPECT_EQ(join_of(24.01), -1);
  EXPECT_EQ(join_of(58), 1);
}

TEST(PlacedMovements, BetweenTwoNearJoinsTheNearerEntryHasIt) {
  const std::vector<JoinMeasures> joins = {join_at(20), join_at(28)};
  EXPECT_EQ(place_movements({movement(23.9, 23.9)}, joins, 0).front().join, 0);
  EXPECT_EQ(place_movements({movement(24.1, 24.1)}, joins, 0).front().join, 1);
}

TEST(PlacedMovements, AreAfterTheEntryOnlyBeyondTheStampsUncertainty) {
  const std::vector<JoinMeasures> joins = {join_at(20)};
  const auto side = [&](double last_s, double stamp_s) {
    return place_movements({movement(19, last_s)}, joins, stamp_s).front().side;
  };
  EXPECT_EQ(side(20, 0), MoveSide::before);
  EXPECT_EQ(side(20.002, 0), MoveSide::after);
  EXPECT_EQ(side(20.002, 0.003), MoveSide::before);
}

// Source: the worked number of timing/stop_moves.h.
TEST(JoinErrors, CountWholeBeats) {
  JoinMeasures join = join_at(20, 5.5, 5);
  join.last_onset_s = 20 - 5.5 * 0.8;
  EXPECT_NEAR(*join_error_ms(join), 400, 1e-9);
  join.planned_span_beats = Measured<double>::unknown("no join is planned");
  join.likeness_beats = -0.25;
  EXPECT_NEAR(*join_error_ms(join), -200, 1e-9);
  join.span_beats = Measured<double>::unknown("broken off");
  EXPECT_FALSE(join_error_ms(join));
}

// Medians by hand: with 100 and 300 -> 200; without -50.
TEST(JoinErrors, AreComparedByTheirMedians) {
  std::vector<JoinMeasures> joins = {join_at(20, 4.1), join_at(40, 3.95), join_at(60, 4.3)};
  joins.push_back(join_at(80));
  joins.back().span_beats = Measured<double>::unknown("broken off");
  const MoveComparison comparison = compare_joins(joins, {true, false, true, true});
  EXPECT_EQ(comparison.joins_with, 2);
  EXPECT_EQ(comparison.joins_without, 1);
  EXPECT_NEAR(*comparison.with_ms, 200, 1e-6);
  EXPECT_NEAR(*comparison.without_ms, -50, 1e-6);
  const MoveComparison none = compare_joins(joins, std::vector<bool>(4, false));
  EXPECT_FALSE(none.with_ms);
  EXPECT_FALSE(none.with_ms.reason.empty());
}

}  // namespace
}  // namespace loftbeat::timing
