// A congregation between its two threads: one tells where the player is, one renders. Meant for the
// thread sanitizer; what is sung is looked at elsewhere.

#include <atomic>
#include <thread>
#include <vector>

#include <gtest/gtest.h>

#include "crowd/congregation.h"

namespace loftbeat::crowd {
namespace {

TEST(CongregationThreads, OneReckonsWhileTheOtherRenders) {
  music::Score score;
  constexpr Tick kBeats = 64;
  for (Tick k = 0; k < kBeats; ++k)
    score.notes.push_back(
        {k * kTicksPerQuarter, kTicksPerQuarter, 60 + static_cast<int>(k % 12), 0, 0});
  music::Bar bar;
  bar.length = score.length = kBeats * kTicksPerQuarter;
  score.bars.push_back(bar);
  plan::Route route;
  plan::RoutePass verse;
  verse.spans = {{0, score.length}};
  route.passes.push_back(verse);
  auto made = Congregation::prepare(score, route, plan::BeatUnit::quarter, {});
  ASSERT_TRUE(made.ok());
  Congregation& people = **made;
  people.set_clock(Instant{}, 0);

  // The engine runs ahead of the sound by what it likes; rendering takes as long as it takes.
  std::atomic<bool> done{false};
  double power = 0;
  std::thread audio([&] {
    std::vector<float> left(128);
    std::vector<float> right(128);
    std::int64_t at = 0;
    while (!done.load() || at < std::int64_t{20} * rt::kSampleRate) {
      std::fill(left.begin(), left.end(), 0.0F);
      people.render_from(at, left.data(), right.data(), left.size());
      at += 128;
      for (const float sample : left)
        power += static_cast<double>(sample) * static_cast<double>(sample);
    }
  });
  follow::LivePosition player;
  player.in_tune = true;
  player.passes_begun = 1;
  player.route_pass = 0;
  player.ns_per_tick = 0.75e9 / static_cast<double>(kTicksPerQuarter);
  for (std::int64_t ms = 0; ms < 750 * kBeats; ms += 10) {
    player.onset = ms / 750 * kTicksPerQuarter;
    player.tick = player.onset + ms % 750 * kTicksPerQuarter / 750;
    people.advance(Instant(Nanoseconds(ms * 1'000'000)), player);
    if (ms == 9'000) people.set_volume_db(-6);
    // Not faster than the queue is emptied.
    while (people.frames_rendered() < (ms - 1000) * 48 && people.frames_rendered() < 960'000)
      std::this_thread::yield();
  }
  done = true;
  audio.join();
  EXPECT_GT(power, 0);
  EXPECT_EQ(people.events_refused(), 0U);
  EXPECT_EQ(people.record().beats.size(), static_cast<std::size_t>(kBeats));
}

}  // namespace
}  // namespace loftbeat::crowd
