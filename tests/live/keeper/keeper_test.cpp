// What the keeper promises: every event in order, and after kill -9 all but the last 250 ms.

#include "live/keeper.h"

#include <sys/mman.h>
#include <sys/wait.h>
#include <unistd.h>

#include <atomic>
#include <cstdlib>
#include <memory>
#include <random>
#include <utility>

#include <gtest/gtest.h>

namespace loftbeat::live {
namespace {

using Clock = std::chrono::steady_clock;

std::string fresh_path(const std::string& name) {
  const std::string path =
      ::testing::TempDir() + "loftbeat-" + std::to_string(::getpid()) + "-" + name;
  ::unlink(path.c_str());
  return path;
}

// The number of an event, hidden in its stamp.
bool push(rt::MessageQueue& queue, std::int64_t number) {
  const std::uint8_t bytes[] = {0x90, 60, 64};
  return rt::receive(queue, 0, number, bytes, 3) == rt::Received::pushed;
}

TEST(Keeper, KeepsAndHandsOnEverythingInOrder) {
  const std::string path = fresh_path("kept.journal");
  const auto queue = std::make_unique<rt::MessageQueue>();
  std::int64_t next = 0;
  bool in_order = true;
  {
    Keeper::Rules rules;
    rules.hand_on = [&](const take::Event& event) {
      in_order = in_order && event.at == Instant(Nanoseconds(next));
      ++next;
    };
    Keeper keeper({queue.get()}, take::JournalWriter::create(path).value(), std::move(rules));
    for (std::int64_t i = 0; i < 20'000;) {
      if (push(*queue, i))
        ++i;
      else
        std::this_thread::yield();
    }
    ASSERT_TRUE(keeper.end().ok());
    EXPECT_EQ(keeper.kept(), 20'000u);
    EXPECT_EQ(keeper.safe(), 20'000u);
    EXPECT_EQ(keeper.trouble(), "");
  }
  EXPECT_TRUE(in_order);
  EXPECT_EQ(next, 20'000);
  const auto journal = take::read_journal(path);
  ASSERT_TRUE(journal.ok());
  EXPECT_TRUE(journal->ended);
  EXPECT_EQ(journal->take.events.size(), 20'000u);
}

// What a child that is about to be killed tells: when each event was handed over.
struct Shared {
  std::atomic<std::int64_t> count{0};
  std::atomic<std::int64_t> at_ns[20'000] = {};
};

[[noreturn]] void play_until_killed(const std::string& path, Shared& shared) {
  const auto queue = std::make_unique<rt::MessageQueue>();
  Keeper keeper({queue.get()}, take::JournalWriter::create(path).value());
  for (std::int64_t i = 0; i < 20'000; ++i) {
    if (!push(*queue, i)) std::_Exit(3);
    shared.at_ns[i].store(Clock::now().time_since_epoch().count());
    shared.count.store(i + 1);
    std::this_thread::sleep_for(std::chrono::microseconds(300));
  }
  std::_Exit(4);  // nobody killed it
}

// Promised is 250 ms; a process that was killed leaves the page cache behind, so that what this
// shows is the keeper's own delay and the file's order, not the disk's.
TEST(Keeper, KilledAtAnyMomentLosesNoMoreThanTheLast250Ms) {
  const int kills = std::getenv("LOFTBEAT_QUICK") != nullptr ? 10 : 100;
  auto* shared = static_cast<Shared*>(
      ::mmap(nullptr, sizeof(Shared), PROT_READ | PROT_WRITE, MAP_SHARED | MAP_ANONYMOUS, -1, 0));
  ASSERT_NE(shared, MAP_FAILED);
  std::mt19937 random(1);
  std::int64_t worst_ms = 0;
  for (int kill = 0; kill < kills; ++kill) {
    new (shared) Shared;
    const std::string path = fresh_path("killed.journal");
    const pid_t child = ::fork();
    if (child == 0) play_until_killed(path, *shared);
    std::this_thread::sleep_for(std::chrono::milliseconds(random() % 500));
    const std::int64_t killed_at = Clock::now().time_since_epoch().count();
    const std::int64_t given = shared->count.load();
    ::kill(child, SIGKILL);
    int status = 0;
    ::waitpid(child, &status, 0);
    ASSERT_TRUE(WIFSIGNALED(status)) << status;
    const auto journal = take::read_journal(path);
    if (!journal) {  // killed before the file was there
      EXPECT_EQ(given, 0);
      continue;
    }
    const auto kept = static_cast<std::int64_t>(journal->take.events.size());
    for (std::int64_t i = 0; i < kept; ++i)
      ASSERT_EQ(journal->take.events[static_cast<std::size_t>(i)].at, Instant(Nanoseconds(i)));
    if (kept < given) worst_ms = std::max(worst_ms, (killed_at - shared->at_ns[kept]) / 1'000'000);
  }
  std::printf("%d kills: the oldest event lost was given %d ms before\n", kills,
              static_cast<int>(worst_ms));
  EXPECT_LE(worst_ms, 250);
  ::munmap(shared, sizeof(Shared));
}

}  // namespace
}  // namespace loftbeat::live
