// Practices in a row. Simulated players are ours (promises kept); medians are counted by hand.

#include "practice/history.h"

#include <algorithm>
#include <random>

#include <gtest/gtest.h>

#include "simulate/simulate.h"

namespace loftbeat::practice {
namespace {

// One practice of a hymn of three verses, every join late by so many beats.
PracticeFigures practised(double late_beats, int number) {
  music::ReadScore score;
  score.score = simulate::invented_hymn({}, 4);
  plan::Plan plan;
  plan.tempo_bpm = 60;
  plan.verses = 3;
  plan.play_over.kind = plan::PlayOverKind::whole;
  plan.join = plan::Join{plan::JoinKind::hold_and_lift, 3, 1, 0};
  const auto route = plan::make_route(plan, score.score).value();
  simulate::Player player;
  for (int pass = 0; pass < 3; ++pass) {
    simulate::Fault fault;
    fault.kind = simulate::FaultKind::phase_slip;
    fault.pass = pass;
    fault.amount = late_beats;
    player.faults.push_back(fault);
  }
  const auto played = simulate::perform({score.score, plan, route}, player, 9);
  const auto reviewed = review(plan, std::move(score), played.take, "test");
  EXPECT_TRUE(reviewed.ok());
  return figures_of(*reviewed, {}, "folder", "2026-11-" + std::to_string(10 + number) + " 10:00");
}

// Ten practices, late by 0.45 beats of a second down to none: the trend has the right figures.
TEST(History, ShowsJoinsThatGetBetter) {
  std::vector<NotedPractice> practices;
  for (int number = 0; number < 10; ++number) {
    const double late = 0.45 - 0.05 * number;
    practices.push_back({"Tune", "tune", practised(late, number)});
    ASSERT_TRUE(practices.back().figures.join_error_ms);
    EXPECT_NEAR(*practices.back().figures.join_error_ms, 1000 * late, 5) << number;
    EXPECT_NEAR(*practices.back().figures.join_spread_ms, 0, 5);
  }
  std::mt19937 random(1);
  std::shuffle(practices.begin(), practices.end(), random);
  const auto histories = histories_of(practices);
  ASSERT_EQ(histories.size(), 1U);
  ASSERT_EQ(histories[0].practices.size(), 10U);
  for (std::size_t i = 1; i < 10; ++i)
    EXPECT_LT(*histories[0].practices[i].join_error_ms,
              *histories[0].practices[i - 1].join_error_ms);
  // The last three: 100, 50 and 0 ms.
  EXPECT_NEAR(*lately(histories[0], &PracticeFigures::join_error_ms), 50, 5);
}

PracticeFigures plain(double join_ms, const std::string& when, const PracticeNote& note = {}) {
  PracticeFigures figures;
  figures.when = when;
  figures.note = note;
  if (join_ms >= 0) figures.join_error_ms = join_ms;
  return figures;
}

TEST(History, ClicksAreLeftOutAndColdTriesStandApart) {
  const auto histories =
      histories_of({{"A", "a", plain(10, "2026-01-01 10:00")},
                    {"A", "a", plain(20, "2026-01-02 10:00", {"always", false, "", 0})},
                    {"A", "a", plain(30, "2026-01-03 10:00", {"rests", false, "", 0})},
                    {"A", "a", plain(40, "2026-01-04 10:00", {"off", true, "play-over", 0})},
                    {"A", "a", plain(50, "2026-01-05 10:00", {"count-in", false, "", 0})}});
  ASSERT_EQ(histories.size(), 1U);
  EXPECT_EQ(histories[0].practices.size(), 2U);
  EXPECT_EQ(histories[0].cold.size(), 1U);
  EXPECT_EQ(histories[0].under_clicks, 2);
}

TEST(History, AnotherTuneChangesNothingOfThisOne) {
  std::vector<NotedPractice> practices = {{"A", "a", plain(10, "2026-01-01 10:00")},
                                          {"A", "a", plain(90, "2026-01-02 10:00")}};
  const auto alone = lately(histories_of(practices)[0], &PracticeFigures::join_error_ms);
  practices.push_back({"B", "b", plain(500, "2026-01-03 10:00")});
  const auto histories = histories_of(practices);
  ASSERT_EQ(histories.size(), 2U);
  EXPECT_EQ(*lately(histories[0], &PracticeFigures::join_error_ms), *alone);
}

// Counted by hand: the last three that tell it are 30, 200 and 100: median 100.
TEST(History, LatelyIsTheMedianOfTheLastThreeThatTellIt) {
  TuneHistory history;
  for (const double ms : {900.0, 30.0, 200.0, -1.0, 100.0})
    history.practices.push_back(plain(ms, ""));
  EXPECT_EQ(*lately(history, &PracticeFigures::join_error_ms), 100);
  EXPECT_FALSE(lately(history, &PracticeFigures::end_drift_ms));
}

// Counted by hand: joins 120 ms of 60 are twice what is tolerated, drift 900 of 300 three times,
// stops 1 of 8 at fault half.
TEST(History, TheNeedIsTheLargestOverWhatIsTolerated) {
  TuneHistory history;
  EXPECT_FALSE(need_of(history).practised);
  PracticeFigures figures = plain(120, "");
  history.practices = {figures};
  EXPECT_EQ(need_of(history).of, Need::Of::joins);
  EXPECT_DOUBLE_EQ(need_of(history).most, 2);
  figures.end_drift_ms = 900.0;
  figures.stops_clean = 7;
  figures.stops_at_fault = 1;
  history.practices = {figures};
  EXPECT_EQ(need_of(history).of, Need::Of::end_drift);
  EXPECT_DOUBLE_EQ(need_of(history).most, 3);
  EXPECT_DOUBLE_EQ(*stops_at_fault_lately(history), 12.5);
  EXPECT_NE(need_sentence(need_of(history)).find("900 ms"), std::string::npos);
}

TEST(History, ADrillSaysNothingOfDrift) {
  Review review;
  const auto figures = figures_of(review, {"off", false, "join 2", 0}, "f", "w");
  EXPECT_FALSE(figures.end_drift_ms);
  EXPECT_EQ(figures.end_drift_ms.reason, "a part alone was played");
}

TEST(PracticeNote, ComesBackAsItWasWritten) {
  for (const PracticeNote& note : {PracticeNote{}, PracticeNote{"rests", false, "", 0},
                                   PracticeNote{"off", true, "play-over", 0},
                                   PracticeNote{"count-in", false, "join 12", 2000}}) {
    const auto read = parse_practice_note(format_practice_note(note), "practice.toml");
    ASSERT_TRUE(read.ok()) << to_string(read.error());
    EXPECT_EQ(*read, note);
  }
  EXPECT_EQ(*read_practice_note("/nowhere/practice.toml"), PracticeNote{});
}

TEST(PracticeNote, WhatIsWrongIsToldWithItsLine) {
  for (const char* wrong : {"click = \"loud\"\n", "cold = 1\n", "only = \"join 0\"\n",
                            "only = \"verse\"\n", "singing = -1\n", "clik = \"off\"\n"}) {
    const auto read = parse_practice_note(std::string("# a comment\n") + wrong, "practice.toml");
    ASSERT_FALSE(read.ok()) << wrong;
    EXPECT_NE(to_string(read.error()).find("practice.toml:2"), std::string::npos)
        << to_string(read.error());
  }
}

}  // namespace
}  // namespace loftbeat::practice
