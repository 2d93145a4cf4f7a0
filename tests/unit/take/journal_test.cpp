// The journal: what was synced is there, whatever became of the rest.

#include "take/journal.h"

#include <sys/resource.h>
#include <unistd.h>

#include <algorithm>
#include <csignal>
#include <random>

#include <gtest/gtest.h>

#include "base/file.h"
#include "take/journal_record.h"

namespace loftbeat::take {
namespace {

Event random_event(std::mt19937& random, std::int64_t& now) {
  now += static_cast<std::int64_t>(random() % 50'000'000);
  Event event;
  event.at = Instant(Nanoseconds(now));
  event.kind = static_cast<EventKind>(random() % 9);
  event.port = static_cast<std::uint8_t>(random() % 4);
  event.channel = static_cast<std::uint8_t>(random() % 16);
  event.data1 = static_cast<std::uint8_t>(random() % 128);
  event.data2 = static_cast<std::uint8_t>(random() % 128);
  if (event.kind == EventKind::exclusive || event.kind == EventKind::marker) {
    for (auto i = random() % 30; i > 0; --i) event.bytes += static_cast<char>(random() % 256);
  }
  return event;
}

std::vector<Event> random_events(unsigned seed, std::size_t count) {
  std::mt19937 random(seed);
  std::int64_t now = 0;
  std::vector<Event> events;
  for (std::size_t i = 0; i < count; ++i) events.push_back(random_event(random, now));
  return events;
}

bool same(const Event& a, const Event& b) {
  return a.at == b.at && a.kind == b.kind && a.port == b.port && a.channel == b.channel &&
         a.data1 == b.data1 && a.data2 == b.data2 && a.bytes == b.bytes;
}

std::string fresh_path(const std::string& name) {
  const std::string path =
      ::testing::TempDir() + "loftbeat-" + std::to_string(::getpid()) + "-" + name;
  ::unlink(path.c_str());
  return path;
}

TEST(Journal, GivesBackWhatWasAppended) {
  const std::string path = fresh_path("whole.journal");
  const auto events = random_events(1, 500);
  {
    auto writer = JournalWriter::create(path);
    ASSERT_TRUE(writer.ok()) << to_string(writer.error());
    for (std::size_t i = 0; i < events.size(); ++i) {
      EXPECT_TRUE(writer->append(events[i]));
      if (i % 37 == 0) {
        ASSERT_TRUE(writer->sync().ok());
      }
    }
    writer->end();
    ASSERT_TRUE(writer->sync().ok());
    EXPECT_EQ(writer->pending(), 0u);
  }
  const auto back = read_journal(path);
  ASSERT_TRUE(back.ok()) << to_string(back.error());
  EXPECT_TRUE(back->ended);
  EXPECT_EQ(back->lost_bytes, 0u);
  ASSERT_EQ(back->take.events.size(), events.size());
  for (std::size_t i = 0; i < events.size(); ++i)
    EXPECT_TRUE(same(back->take.events[i], events[i]));
  // What is there is never written over.
  EXPECT_FALSE(JournalWriter::create(path).ok());
}

std::string journal_of(const std::vector<Event>& events) {
  std::string bytes(kJournalHead);
  for (const Event& event : events) bytes += journal_record(journal_contents(event));
  return bytes;
}

// A power cut may come after any byte.
TEST(Journal, CutAnywhereItHoldsAllThatCameBefore) {
  const auto events = random_events(2, 40);
  const std::string bytes = journal_of(events);
  for (std::size_t length = 0; length <= bytes.size(); ++length) {
    const auto back = parse_journal(std::string_view(bytes).substr(0, length), "cut");
    ASSERT_TRUE(back.ok()) << length;
    EXPECT_FALSE(back->ended);
    std::size_t whole = 0;
    std::size_t at = kJournalHead.size();
    while (whole < events.size()) {
      at += journal_record(journal_contents(events[whole])).size();
      if (at > length) break;
      ++whole;
    }
    ASSERT_EQ(back->take.events.size(), whole) << length;
    for (std::size_t i = 0; i < whole; ++i) EXPECT_TRUE(same(back->take.events[i], events[i]));
  }
}

TEST(Journal, ADamagedByteCostsOneEventAndInventsNone) {
  const auto events = random_events(3, 60);
  const std::string bytes = journal_of(events);
  std::mt19937 random(4);
  for (int trial = 0; trial < 400; ++trial) {
    std::string damaged = bytes;
    const std::size_t at = kJournalHead.size() + random() % (bytes.size() - kJournalHead.size());
    damaged[at] = static_cast<char>(damaged[at] ^ (1 << (random() % 8)));
    const auto back = parse_journal(damaged, "damaged");
    ASSERT_TRUE(back.ok());
    EXPECT_GT(back->lost_bytes, 0u);
    EXPECT_EQ(back->take.events.size(), events.size() - 1);
    for (const Event& event : back->take.events) {
      EXPECT_TRUE(std::any_of(events.begin(), events.end(),
                              [&](const Event& one) { return same(one, event); }));
    }
  }
}

TEST(Journal, WhateverTheBytesAreItIsReadOrRefused) {
  EXPECT_FALSE(parse_journal("MThd and so on, no journal", "x").ok());
  EXPECT_FALSE(read_journal("/nowhere/at/all.journal").ok());
  std::mt19937 random(5);
  for (int trial = 0; trial < 200; ++trial) {
    std::string bytes(kJournalHead);
    for (auto i = random() % 3000; i > 0; --i)
      bytes += static_cast<char>(random() % 3 == 0 ? random() % 256 : 0);
    const auto back = parse_journal(bytes, "x");
    ASSERT_TRUE(back.ok());
  }
}

// A limit on file size stands for the full disk: the system writes a part and then refuses.
TEST(Journal, AFullDiskLosesNothing) {
  const std::string path = fresh_path("full.journal");
  const auto events = random_events(6, 300);
  auto writer = JournalWriter::create(path);
  ASSERT_TRUE(writer.ok());
  std::signal(SIGXFSZ, SIG_IGN);
  rlimit before{};
  ASSERT_EQ(::getrlimit(RLIMIT_FSIZE, &before), 0);
  rlimit tight = before;
  tight.rlim_cur = 2000;
  ASSERT_EQ(::setrlimit(RLIMIT_FSIZE, &tight), 0);
  int refusals = 0;
  for (const Event& event : events) {
    EXPECT_TRUE(writer->append(event));
    refusals += writer->sync().ok() ? 0 : 1;
  }
  ASSERT_EQ(::setrlimit(RLIMIT_FSIZE, &before), 0);
  EXPECT_GT(refusals, 100);
  EXPECT_GT(writer->pending(), 0u);
  ASSERT_TRUE(writer->sync().ok());  // there is room again
  const auto back = read_journal(path);
  ASSERT_TRUE(back.ok());
  EXPECT_EQ(back->lost_bytes, 0u);
  EXPECT_EQ(back->take.events.size(), events.size());
}

TEST(Journal, AReadOnlyFolderIsToldAtOnce) {
  const auto writer = JournalWriter::create("/proc/no-such-place/take.journal");
  ASSERT_FALSE(writer.ok());
  EXPECT_EQ(writer.error().kind, ErrorKind::failed);
  EXPECT_FALSE(writer.error().hint.empty());
}

}  // namespace
}  // namespace loftbeat::take
