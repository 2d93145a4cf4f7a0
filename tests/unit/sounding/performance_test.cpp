#include "voice/performance.h"

#include <algorithm>
#include <map>

#include <gtest/gtest.h>

#include "small_organ.h"

namespace loftbeat::voice {
namespace {

using rt::Act;

Performance sample(const organ::Organ& organ) {
  PerformanceBuilder builder(organ);
  builder.change(0, organ::empty_registration(organ), drawn(organ, {"Great Open Diapason 8"}));
  builder.hold({0, 1000, 0, 60});
  builder.hold({1000, 2000, 0, 60});
  builder.hold({500, 1500, 0, 64});
  builder.change(1200, drawn(organ, {"Great Open Diapason 8"}),
                 drawn(organ, {"Great Principal 4"}));
  builder.hold({0, 10, 0, 12});   // no such key
  builder.hold({10, 10, 0, 60});  // no time
  return builder.finish(2500);
}

// What is held and drawn once all events up to `frame`, those at it included, have happened.
std::map<std::pair<int, int>, int> state_at(const Performance& performance, std::int64_t frame) {
  std::map<std::pair<int, int>, int> state;
  for (const rt::Event& event : performance.events) {
    if (event.frame > frame) break;
    if (event.act == Act::key_down) state[{0, event.index}] += 1;
    if (event.act == Act::key_up) state[{0, event.index}] -= 1;
    if (event.act == Act::draw_stop) state[{1, event.index}] = 1;
    if (event.act == Act::push_in_stop) state[{1, event.index}] = 0;
  }
  std::erase_if(state, [](const auto& one) { return one.second == 0; });
  return state;
}

TEST(Performance, ReleasesComeBeforeStopsBeforeStrikes) {
  const Performance performance = sample(small_organ());
  EXPECT_EQ(performance.frames, 2500);
  std::vector<Act> at_1000;
  for (const rt::Event& event : performance.events)
    if (event.frame == 1000) at_1000.push_back(event.act);
  EXPECT_EQ(at_1000, (std::vector<Act>{Act::key_up, Act::key_down}));
  EXPECT_EQ(performance.events.size(), 9U);
}

TEST(Performance, StartingAnywhereEverythingIsAsItWouldHaveBeen) {
  const Performance performance = sample(small_organ());
  for (std::int64_t start = 0; start <= 2600; start += 50) {
    const Performance later = from_frame(performance, start);
    for (std::int64_t at = start; at <= 2600; at += 50)
      ASSERT_EQ(state_at(later, at - start), state_at(performance, at)) << start << " " << at;
    EXPECT_EQ(later.frames, std::max<std::int64_t>(0, 2500 - start));
  }
}

TEST(Performance, CutOffAllKeysAreLetGo) {
  const Performance shorter = cut_at(sample(small_organ()), 700);
  EXPECT_EQ(shorter.frames, 700);
  EXPECT_EQ(shorter.events.back().act, Act::release_keys);
  EXPECT_EQ(shorter.events.back().frame, 700);
}

}  // namespace
}  // namespace loftbeat::voice
