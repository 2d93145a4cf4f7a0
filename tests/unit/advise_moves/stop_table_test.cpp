// The verdicts of stop moves: every cell of the table.
// Source: the table at judge_stop_move (advise/stop_verdicts.h), written out again cell by cell.

#include <gtest/gtest.h>

#include "advise/stop_verdicts.h"

namespace loftbeat::advise {
namespace {

using timing::JoinVerdict;

constexpr StopJudgement kClean{StopVerdict::clean, false};
constexpr StopJudgement kHeard{StopVerdict::heard_in_the_chord, true};
constexpr StopJudgement kCost{StopVerdict::cost_the_beat, true};
constexpr StopJudgement kAfter{StopVerdict::after_the_beat, true};
constexpr StopJudgement kAfterMeant{StopVerdict::after_the_beat, false};
constexpr StopJudgement kLeftOut{StopVerdict::left_out, true};
constexpr StopJudgement kLeftOutExcused{StopVerdict::left_out, false};

struct Row {
  JoinVerdict join;
  bool too_long;
  StopJudgement neither;
  StopJudgement heard;
  StopJudgement past_entry;
  StopJudgement after;
  StopJudgement none;
};

const std::vector<Row>& rows() {
  using J = JoinVerdict;
  static const std::vector<Row> kRows = {
      {J::in_time, false, kClean, kHeard, kClean, kAfter, kLeftOutExcused},
      {J::in_time, true, kClean, kHeard, kClean, kAfter, kLeftOutExcused},
      {J::early, false, kClean, kHeard, kClean, kAfter, kLeftOut},
      {J::early, true, kClean, kHeard, kClean, kAfter, kLeftOut},
      {J::late, false, kClean, kHeard, kCost, kAfter, kLeftOut},
      {J::late, true, kClean, kHeard, kCost, kAfter, kLeftOut},
      {J::miscounted, false, kClean, kHeard, kClean, kAfter, kLeftOut},
      {J::miscounted, true, kClean, kHeard, kClean, kAfter, kLeftOut},
      {J::cannot_tell, false, kClean, kHeard, kClean, kAfter, kLeftOutExcused},
      {J::cannot_tell, true, kClean, kHeard, kClean, kAfter, kLeftOutExcused},
      {J::unlike, false, kClean, kHeard, kClean, kAfter, kLeftOut},
      {J::unlike, true, kClean, kHeard, kCost, kAfter, kLeftOut},
      {J::alike, false, kClean, kHeard, kClean, kAfter, kLeftOutExcused},
      {J::alike, true, kClean, kHeard, kClean, kAfter, kLeftOutExcused},
  };
  return kRows;
}

TEST(StopTable, HasARowForEveryVerdictOfAJoin) {
  for (int verdict = 0; verdict <= static_cast<int>(JoinVerdict::alike); ++verdict) {
    for (const bool too_long : {false, true}) {
      EXPECT_TRUE(std::any_of(rows().begin(), rows().end(), [&](const Row& row) {
        return static_cast<int>(row.join) == verdict && row.too_long == too_long;
      }));
    }
  }
}

TEST(StopTable, BeforeTheEntry) {
  for (const Row& row : rows()) {
    const JoinOutcome join{row.join, row.too_long};
    for (const bool planned : {false, true}) {
      const auto judged = [&](bool heard, bool past) {
        return judge_stop_move(join, {MoveWhen::before, planned, heard, past});
      };
      EXPECT_EQ(judged(false, false), row.neither) << timing::to_string(row.join);
      EXPECT_EQ(judged(true, false), row.heard) << timing::to_string(row.join);
      EXPECT_EQ(judged(true, true), row.heard) << timing::to_string(row.join);
      EXPECT_EQ(judged(false, true), row.past_entry) << timing::to_string(row.join);
    }
  }
}

TEST(StopTable, AfterTheEntryIsAFaultWhereItWasToBeAtTheJoin) {
  for (const Row& row : rows()) {
    const JoinOutcome join{row.join, row.too_long};
    for (const bool heard : {false, true}) {
      EXPECT_EQ(judge_stop_move(join, {MoveWhen::after, true, heard, true}), row.after);
      EXPECT_EQ(judge_stop_move(join, {MoveWhen::after, false, heard, false}), kAfterMeant);
    }
  }
}

TEST(StopTable, NothingMoved) {
  for (const Row& row : rows()) {
    const JoinOutcome join{row.join, row.too_long};
    EXPECT_EQ(judge_stop_move(join, {MoveWhen::none, true}), row.none)
        << timing::to_string(row.join);
    EXPECT_FALSE(judge_stop_move(join, {MoveWhen::none, false}));
  }
}

// Law: nothing is held against a join that came in time but what was heard, or came after it.
TEST(StopTable, AJoinInTimeIsNeverCalledLate) {
  for (const JoinVerdict verdict : {JoinVerdict::in_time, JoinVerdict::alike}) {
    for (const bool past : {false, true}) {
      EXPECT_FALSE(judge_stop_move({verdict, true}, {MoveWhen::before, true, false, past})->fault);
    }
    EXPECT_FALSE(judge_stop_move({verdict, true}, {MoveWhen::none, true})->fault);
  }
}

}  // namespace
}  // namespace loftbeat::advise
