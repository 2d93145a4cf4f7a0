// What the audio callback runs must neither allocate nor lock. The allocator and the mutex of the C
// library are interposed here and counted while armed.

#include <atomic>
#include <cstdlib>
#include <vector>

#include <dlfcn.h>
#include <pthread.h>

#include <gtest/gtest.h>

#include "live/rt/ears.h"
#include "live/rt/stage.h"
#include "room/read.h"
#include "small_organ.h"
#include "voice/instrument.h"

namespace {

thread_local bool armed = false;
std::atomic<int> counted{0};

[[maybe_unused]] void count() {
  if (armed) counted.fetch_add(1, std::memory_order_relaxed);
}

}  // namespace

// The sanitizers bring allocators of their own; there this test has nothing to say.
#if defined(__SANITIZE_ADDRESS__) || defined(__SANITIZE_THREAD__)
constexpr bool kCounts = false;
#else
constexpr bool kCounts = true;

extern "C" {
void* __libc_malloc(std::size_t);
void* __libc_calloc(std::size_t, std::size_t);
void* __libc_realloc(void*, std::size_t);
void* __libc_memalign(std::size_t, std::size_t);
void __libc_free(void*);

void* malloc(std::size_t size) { return count(), __libc_malloc(size); }
void* calloc(std::size_t n, std::size_t size) { return count(), __libc_calloc(n, size); }
void* realloc(void* old, std::size_t size) { return count(), __libc_realloc(old, size); }
void* aligned_alloc(std::size_t align, std::size_t size) {
  return count(), __libc_memalign(align, size);
}
int posix_memalign(void** out, std::size_t align, std::size_t size) {
  count();
  *out = __libc_memalign(align, size);
  return *out == nullptr ? 12 : 0;
}
void free(void* old) {
  if (old != nullptr) count();
  __libc_free(old);
}
int pthread_mutex_lock(pthread_mutex_t* mutex) {
  using Lock = int (*)(pthread_mutex_t*);
  static const Lock real = reinterpret_cast<Lock>(dlsym(RTLD_NEXT, "pthread_mutex_lock"));
  count();
  return real(mutex);
}
}
#endif

namespace loftbeat::voice {
namespace {

template <typename Do>
int calls_of(Do act) {
  counted = 0;
  armed = true;
  act();
  armed = false;
  return counted.load();
}

TEST(NoAllocation, TheCountersCount) {
  if (!kCounts) GTEST_SKIP() << "a sanitizer has the allocator";
  std::vector<int>* kept = nullptr;
  EXPECT_GE(calls_of([&] { kept = new std::vector<int>(100); }), 2);
  EXPECT_GE(calls_of([&] { delete kept; }), 2);
  pthread_mutex_t mutex = PTHREAD_MUTEX_INITIALIZER;
  EXPECT_EQ(calls_of([&] { pthread_mutex_lock(&mutex); }), 1);
  pthread_mutex_unlock(&mutex);
}

const std::string kChurch = R"(volume = 3600
[[surface]]
material = "plaster-on-brick"
area = 1140
[[pews]]
area = 200
seats = 300
)";

Result<std::unique_ptr<rt::Player>> player_in_church() {
  static const organ::Organ organ = small_organ();
  static const auto church = room::parse_church(kChurch, "test.church.toml");
  if (!church) return church.error();
  InstrumentOrder order;
  order.organ = &organ;
  order.recipes = &recipes();
  order.soundfont = kSoundFont;
  order.church = &*church;
  return make_player(order);
}

TEST(NoAllocation, RenderingWithEverythingThatCanHappenNeitherAllocatesNorLocks) {
  if (!kCounts) GTEST_SKIP() << "a sanitizer has the allocator";
  auto player = player_in_church();
  ASSERT_TRUE(player.ok()) << to_string(player.error());
  std::vector<float> left(256);
  std::vector<float> right(256);
  const int calls = calls_of([&] {
    using rt::Act;
    for (std::uint16_t i = 0; i < 400; ++i) {
      const std::uint16_t key = 48 + i % 24;
      static_cast<void>((*player)->post(
          {0, i % 3 == 2 ? Act::key_up : Act::key_down, static_cast<std::uint8_t>(i % 3), key, 0}));
      static_cast<void>((*player)->post(
          {0, static_cast<Act>(i % 9), 1, static_cast<std::uint16_t>(i % 4), 0.3F}));
      if (i % 100 == 99) static_cast<void>((*player)->post({0, Act::silence_everything, 0, 0, 0}));
      (*player)->render(left.data(), right.data(), left.size());
    }
  });
  EXPECT_EQ(calls, 0);
}

// The audio callback of a practice: keys from two inputs, one of which goes away, stops, clicks.
TEST(NoAllocation, TheStageOfAPracticeNeitherAllocatesNorLocks) {
  if (!kCounts) GTEST_SKIP() << "a sanitizer has the allocator";
  auto player = player_in_church();
  ASSERT_TRUE(player.ok()) << to_string(player.error());
  using live::rt::Reader;
  live::rt::Ears great(std::vector{Reader::sound});
  live::rt::Ears pedal(std::vector{Reader::sound});
  live::rt::StageSpec spec;
  spec.player = std::move(*player);
  spec.queues = {great.of(Reader::sound), pedal.of(Reader::sound)};
  for (auto& channel : spec.keys.division) channel.fill(0);
  for (int i = 0; i < 100; ++i) spec.clicks.push_back({i * 500, i % 4 == 0});
  live::rt::Stage stage(std::move(spec));
  std::vector<float> left(128);
  std::vector<float> right(128);
  const int calls = calls_of([&] {
    stage.metronome().start(0);
    for (std::int64_t i = 0; i < 400; ++i) {
      const std::int64_t now = i * 2'666'667;
      const auto key = static_cast<std::uint8_t>(48 + i % 24);
      const std::uint8_t strike[] = {static_cast<std::uint8_t>(i % 3 == 2 ? 0x80 : 0x90), key, 90};
      great.receive(0, now, strike, 3);
      pedal.receive(1, now, strike, 3);
      if (i == 200) pedal.push(live::rt::input_gone(1, now));
      static_cast<void>(
          stage.post({0, static_cast<rt::Act>(i % 9), 1, static_cast<std::uint16_t>(i % 4), 0.3F}));
      stage.render(left.data(), right.data(), left.size(), now);
    }
  });
  EXPECT_EQ(calls, 0);
}

}  // namespace
}  // namespace loftbeat::voice
