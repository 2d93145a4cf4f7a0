// The folder that keeps a practice.

#include "practice/session_folder.h"

#include <unistd.h>

#include <filesystem>

#include <gtest/gtest.h>

#include "base/file.h"
#include "plan/read.h"
#include "take/journal.h"
#include "take/smf_take.h"

namespace loftbeat::practice {
namespace {

namespace fs = std::filesystem;

std::tm half_past_six() {
  std::tm when{};
  when.tm_year = 126;
  when.tm_mon = 10;
  when.tm_mday = 29;
  when.tm_hour = 18;
  when.tm_min = 30;
  return when;
}

std::string fresh_parent() {
  const std::string parent =
      ::testing::TempDir() + "loftbeat-sessions-" + std::to_string(::getpid()) + "/a/b";
  fs::remove_all(fs::path(parent).parent_path());
  return parent;
}

plan::Plan some_plan() {
  plan::Plan plan;
  plan.title = "Now the lamps";
  plan.score_path = std::string(LOFTBEAT_SOURCE_DIR) + "/sessions/quaverham/evening.musicxml";
  plan.tempo_bpm = 76;
  plan.verses = 3;
  return plan;
}

take::Event struck(std::int64_t ms, std::uint8_t key) {
  take::Event event;
  event.at = Instant(std::chrono::milliseconds(ms));
  event.data1 = key;
  event.data2 = 64;
  return event;
}

TEST(SessionFolder, IsNamedAfterDayHourAndTune) {
  EXPECT_EQ(session_name(half_past_six(), "Now the lamps are lit"),
            "2026-11-29-1830-now-the-lamps-are-lit");
  EXPECT_EQ(session_name(half_past_six(), "../../etc/ Ünser!"), "2026-11-29-1830-etc-nser");
  EXPECT_EQ(session_name(half_past_six(), " ?! "), "2026-11-29-1830-hymn");
  EXPECT_LE(session_name(half_past_six(), std::string(5000, 'a')).size(), 60u);
}

TEST(SessionFolder, TwoInOneMinuteAreKeptApartAndThePlanFindsItsFiles) {
  const std::string parent = fresh_parent();
  const auto first = make_session(parent, half_past_six(), some_plan(), "Lamps");
  const auto second = make_session(parent, half_past_six(), some_plan(), "Lamps");
  ASSERT_TRUE(first.ok()) << to_string(first.error());
  ASSERT_TRUE(second.ok()) << to_string(second.error());
  EXPECT_NE(first->path, second->path);
  const auto plan = plan::read_plan(first->plan());
  ASSERT_TRUE(plan.ok()) << to_string(plan.error());
  EXPECT_TRUE(fs::equivalent(plan->score_path, some_plan().score_path));
}

TEST(SessionFolder, WhatACrashLeftIsFoundAndFinished) {
  const std::string parent = fresh_parent();
  EXPECT_TRUE(unfinished_sessions(parent).empty());  // not there at all
  const auto folder = make_session(parent, half_past_six(), some_plan(), "Lamps");
  ASSERT_TRUE(folder.ok());
  EXPECT_TRUE(unfinished_sessions(parent).empty());  // nothing was played
  {
    auto journal = take::JournalWriter::create(folder->journal());
    ASSERT_TRUE(journal.ok());
    EXPECT_TRUE(journal->append(struck(10, 60)));
    EXPECT_TRUE(journal->append(struck(20, 64)));
    ASSERT_TRUE(journal->sync().ok());  // and no end: the crash
  }
  const auto unfinished = unfinished_sessions(parent);
  ASSERT_EQ(unfinished.size(), 1u);
  EXPECT_EQ(unfinished.front().path, folder->path);
  const auto take = finish_session(unfinished.front());
  ASSERT_TRUE(take.ok()) << to_string(take.error());
  EXPECT_EQ(take->events.size(), 2u);
  EXPECT_EQ(take::read_take(folder->take())->events.size(), 2u);
  EXPECT_FALSE(fs::exists(folder->journal()));
  EXPECT_TRUE(unfinished_sessions(parent).empty());
}

TEST(SessionFolder, APlaceThatCannotBeWrittenIsTold) {
  const auto folder = make_session("/proc/nowhere", half_past_six(), some_plan(), "Lamps");
  ASSERT_FALSE(folder.ok());
  EXPECT_EQ(folder.error().kind, ErrorKind::failed);
  EXPECT_FALSE(finish_session({"/nowhere"}).ok());
}

}  // namespace
}  // namespace loftbeat::practice
