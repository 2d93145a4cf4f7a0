// The whole congregation fed by the real live follower, rendered as the audio thread would.

#include "crowd/congregation.h"

#include <atomic>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <string>
#include <vector>

#include <dlfcn.h>
#include <gtest/gtest.h>
#include <pthread.h>
#include <sndfile.h>
#include <unistd.h>

#include "crowd/singing_file.h"
#include "crowd/who_led.h"
#include "take/hygiene.h"

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
void __libc_free(void*);

void* malloc(std::size_t size) { return count(), __libc_malloc(size); }
void* calloc(std::size_t n, std::size_t size) { return count(), __libc_calloc(n, size); }
void* realloc(void* old, std::size_t size) { return count(), __libc_realloc(old, size); }
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

namespace loftbeat::crowd {
namespace {

constexpr double kPeriod = 0.75;
constexpr int kBeats = 32;

struct Hymn {
  music::Score score;
  plan::Route route;
};

// 32 crotchets over a bass: a tune in which no two bars are alike, so that a place is known.
Hymn hymn() {
  Hymn made;
  constexpr int kTune[kBeats] = {67, 67, 69, 71, 72, 71, 69, 67, 74, 72, 71, 69, 71, 67, 69, 66,
                                 67, 71, 74, 76, 74, 72, 71, 74, 72, 69, 71, 67, 69, 66, 67, 67};
  for (int k = 0; k < kBeats; ++k) {
    made.score.notes.push_back({k * kTicksPerQuarter, kTicksPerQuarter, 43 + k % 5, 1, 1});
    made.score.notes.push_back({k * kTicksPerQuarter, kTicksPerQuarter, kTune[k], 0, 0});
  }
  for (int bar = 0; bar < kBeats / 4; ++bar) {
    music::Bar one;
    one.start = Tick{4} * bar * kTicksPerQuarter;
    one.length = 4 * kTicksPerQuarter;
    made.score.bars.push_back(one);
  }
  for (int begin : {0, 16})
    made.score.phrases.push_back({{begin * kTicksPerQuarter, (begin + 16) * kTicksPerQuarter}});
  made.score.length = kBeats * kTicksPerQuarter;
  made.score.voices = made.score.staves = 2;
  made.route.phrases = made.score.phrases;
  for (const char* label : {"play-over", "1", "2"}) {
    plan::RoutePass pass;
    pass.label = label;
    pass.kind = made.route.passes.empty() ? plan::PassKind::play_over : plan::PassKind::verse;
    pass.spans = {{0, made.score.length}};
    made.route.passes.push_back(pass);
  }
  return made;
}

// The take clock begins with the frames; so many seconds are rendered in blocks of 256.
struct Heard {
  std::vector<float> left;
  std::vector<std::vector<double>> struck_s;
  take::Take take;
};

// A metronomic player: chords struck together, keys let go 0.6 s later, two beats more at joins.
Heard play(const Hymn& tune, Congregation& people, Singing second_verse = Singing::on) {
  follow::LiveFollower follower(tune.score, tune.route, 60 / kPeriod);
  struct Key {
    double at;
    int pitch;
    bool down;
    bool second;  // in the second verse
  };
  std::vector<Key> keys;
  Heard heard;
  double at = 0.5;
  for (std::size_t pass = 0; pass < 3; ++pass, at += 2 * kPeriod) {
    heard.struck_s.emplace_back();
    for (int k = 0; k < kBeats; ++k, at += kPeriod) {
      heard.struck_s.back().push_back(at);
      for (std::size_t n = 0; n < 2; ++n) {
        const int pitch = tune.score.notes[static_cast<std::size_t>(2 * k) + n].pitch;
        keys.push_back({at + 0.004 * static_cast<double>(n), pitch, true, pass == 2});
        keys.push_back({at + 0.6, pitch, false, pass == 2});
      }
    }
  }
  std::stable_sort(keys.begin(), keys.end(),
                   [](const Key& a, const Key& b) { return a.at < b.at; });
  people.set_clock(Instant{}, 0);
  std::size_t next = 0;
  bool switched = false;
  std::vector<float> left(256);
  std::vector<float> right(256);
  for (std::int64_t frame = 0; static_cast<double>(frame) / 48000 < at; frame += 256) {
    const double now = static_cast<double>(frame) / 48000;
    for (; next < keys.size() && keys[next].at <= now; ++next) {
      const Instant when = instant_from_seconds(keys[next].at);
      take::Event event;
      event.at = when;
      event.kind = keys[next].down ? take::EventKind::note_on : take::EventKind::note_off;
      event.data1 = static_cast<std::uint8_t>(keys[next].pitch);
      event.data2 = 64;
      heard.take.events.push_back(event);
      if (!keys[next].down) {
        follower.note_off(when, keys[next].pitch);
        people.key_up(when, keys[next].pitch);
        continue;
      }
      if (keys[next].second && !std::exchange(switched, true)) people.set_singing(second_verse);
      follower.note_on(when, keys[next].pitch);
      people.key_down(when, keys[next].pitch, follower.position(when));
    }
    const Instant when = instant_from_seconds(now);
    people.advance(when, follower.position(when));
    std::fill(left.begin(), left.end(), 0.0F);
    std::fill(right.begin(), right.end(), 0.0F);
    people.render(left.data(), right.data(), 256);
    heard.left.insert(heard.left.end(), left.begin(), left.end());
  }
  return heard;
}

double power(const std::vector<float>& sound, double from_s, double to_s) {
  double sum = 0;
  const auto from = static_cast<std::size_t>(from_s * 48000);
  const auto to = static_cast<std::size_t>(to_s * 48000);
  for (std::size_t i = from; i < to; ++i)
    sum += static_cast<double>(sound[i]) * static_cast<double>(sound[i]);
  return sum / static_cast<double>(to - from);
}

CongregationOrder exact_order() {
  CongregationOrder order;
  order.manners.reluctance = 0.04;
  order.manners.interval_sd = 0;
  return order;
}

TEST(Congregation, SingsTheVersesToALiveFollowerAndLagsAsTheEquationsSay) {
  const Hymn tune = hymn();
  auto people =
      Congregation::prepare(tune.score, tune.route, plan::BeatUnit::quarter, exact_order());
  ASSERT_TRUE(people.ok());
  const Heard heard = play(tune, **people);
  EXPECT_EQ(power(heard.left, 0.5, heard.struck_s[1][0]), 0);  // the play-over is not sung
  const double expected_db = level_of_people_db(room::Effort::raised, 60) - kFullScaleDb;
  EXPECT_NEAR(10 * std::log10(power(heard.left, heard.struck_s[2][4], heard.struck_s[2][12])),
              expected_db, 3);
  double lag = 0;
  int beats = 0;
  for (const CrowdBeat& beat : (*people)->record().beats) {
    const auto k = static_cast<std::size_t>(beat.tick / kTicksPerQuarter);
    ASSERT_GE(beat.pass, 2);
    if (beat.pass != 3 || k < 24) continue;
    lag += seconds(beat.sung) - heard.struck_s[2][k] - (*people)->record().way_s();
    ++beats;
  }
  EXPECT_EQ(beats, 8);
  // The closed form for a firm player; touch and tempo as the follower tells them.
  EXPECT_NEAR(lag / beats, 0.04 * kPeriod / 0.35, 0.005);
  EXPECT_GT((*people)->state().firmness, 0.98);
  EXPECT_EQ((*people)->events_refused(), 0U);
}

// What a practice folder keeps, through the real alignment: take and beats tell who led.
TEST(Congregation, ItsRecordAndTheTakeTellWhoLed) {
  const Hymn tune = hymn();
  auto people =
      Congregation::prepare(tune.score, tune.route, plan::BeatUnit::quarter, exact_order());
  ASSERT_TRUE(people.ok());
  const Heard heard = play(tune, **people);
  const auto alignment =
      follow::align(tune.score, tune.route, 60 / kPeriod, take::clean(heard.take));
  ASSERT_TRUE(alignment.ok());
  const auto record = parse_crowd(format_crowd((*people)->record()), "people.beats");
  ASSERT_TRUE(record.ok());
  const WhoLed led =
      who_led({tune.score, tune.route, *alignment, record->record, plan::BeatUnit::quarter});
  ASSERT_EQ(led.verses.size(), 2U);
  EXPECT_EQ(led.verses[1].label, "2");
  EXPECT_EQ(led.verses[1].beats, kBeats);
  EXPECT_EQ(led.led, Led::firm) << led.sentence;
  // The second of a chord's two notes comes 4 ms after the first: its median 2 ms.
  EXPECT_NEAR(*led.verses[1].lag_ms, 1000 * 0.04 * kPeriod / 0.35, 5);
  EXPECT_EQ(led.sentence.find("You led: 2 verses at 80 in a minute, the people "), 0U)
      << led.sentence;
}

TEST(Congregation, SwitchedOffIsNeitherHeardNorRecorded) {
  const Hymn tune = hymn();
  auto people =
      Congregation::prepare(tune.score, tune.route, plan::BeatUnit::quarter, exact_order());
  ASSERT_TRUE(people.ok());
  const Heard heard = play(tune, **people, Singing::off);
  EXPECT_GT(power(heard.left, heard.struck_s[1][4], heard.struck_s[1][12]), 0);
  EXPECT_EQ(power(heard.left, heard.struck_s[2][1], heard.struck_s[2][31]), 0);
  for (const CrowdBeat& beat : (*people)->record().beats) EXPECT_EQ(beat.pass, 2);
}

TEST(Congregation, RefusesWhatIsNoCongregation) {
  const Hymn tune = hymn();
  const auto refused = [&](auto change) {
    CongregationOrder order;
    change(order.manners);
    const auto made = Congregation::prepare(tune.score, tune.route, plan::BeatUnit::quarter, order);
    return !made.ok() && made.error().kind == ErrorKind::wrong_use;
  };
  EXPECT_TRUE(refused([](Manners& m) { m.people = 0; }));
  EXPECT_TRUE(refused([](Manners& m) { m.people = 2001; }));
  EXPECT_TRUE(refused([](Manners& m) { m.reluctance = 0.081; }));
  EXPECT_TRUE(refused([](Manners& m) { m.reluctance = std::nan(""); }));
  EXPECT_TRUE(refused([](Manners& m) { m.metres = -1; }));
  EXPECT_FALSE(refused([](Manners& m) { m.people = 1; }));
  EXPECT_FALSE(Congregation::prepare(music::Score{}, tune.route, plan::BeatUnit::quarter, {}).ok());
}

TEST(Congregation, RenderingNeitherAllocatesNorLocks) {
  if (!kCounts) GTEST_SKIP() << "a sanitizer has the allocator";
  std::vector<int>* kept = nullptr;
  counted = 0;
  armed = true;
  kept = new std::vector<int>(100);
  armed = false;
  EXPECT_GE(counted.load(), 2);  // the counters count
  delete kept;
  rt::Choir choir(make_choir({500, room::Effort::loud, 3}));
  std::vector<float> left(256);
  std::vector<float> right(256);
  counted = 0;
  armed = true;
  for (int i = 0; i < 2000; ++i) {
    if (i % 40 == 0)
      static_cast<void>(
          choir.post({std::int64_t{256} * i, i % 200 == 160 ? rt::Sing::silence : rt::Sing::note,
                      static_cast<std::uint8_t>(60 + i % 13), 0}));
    if (i % 300 == 0) static_cast<void>(choir.post({0, rt::Sing::volume, 0, -6.0F}));
    choir.render(left.data(), right.data(), left.size());
  }
  armed = false;
  EXPECT_EQ(counted.load(), 0);
}

// What was sung live, written as a file: the same notes at the same times (libsndfile reads it).
TEST(SingingFile, HoldsWhatWasSung) {
  const Hymn tune = hymn();
  auto people =
      Congregation::prepare(tune.score, tune.route, plan::BeatUnit::quarter, exact_order());
  ASSERT_TRUE(people.ok());
  const Heard heard = play(tune, **people);
  const std::string path =
      (std::filesystem::temp_directory_path() / ("crowd-" + std::to_string(getpid()) + ".wav"))
          .string();
  const auto written = write_singing((*people)->sung(), {60, room::Effort::raised, 1}, path);
  ASSERT_TRUE(written.ok()) << to_string(written.error());
  SF_INFO info{};
  SNDFILE* file = sf_open(path.c_str(), SFM_READ, &info);
  ASSERT_NE(file, nullptr);
  std::vector<float> both(static_cast<std::size_t>(info.frames) * 2);
  ASSERT_EQ(sf_readf_float(file, both.data(), info.frames), info.frames);
  sf_close(file);
  std::filesystem::remove(path);
  EXPECT_EQ(info.frames, written->frames);
  std::vector<float> left;
  for (std::size_t i = 0; i < both.size(); i += 2) left.push_back(both[i]);
  // The same seed and the same events: the same sound but for 24 bits, as far as both go.
  ASSERT_GT(left.size(), heard.left.size());
  double most = 0;
  for (std::size_t i = 0; i < heard.left.size(); ++i)
    most = std::max(most, std::abs(static_cast<double>(left[i] - heard.left[i])));
  EXPECT_LT(most, 1e-6);
}

TEST(SingingFile, RefusesNothingAndOtherEndings) {
  EXPECT_FALSE(write_singing({}, {}, "none.wav").ok());
  const std::vector<SungEvent> one = {{Instant{}, Instant{}, SungEvent::What::note, 60}};
  EXPECT_EQ(write_singing(one, {}, "none.mp3").error().kind, ErrorKind::wrong_use);
}

}  // namespace
}  // namespace loftbeat::crowd
