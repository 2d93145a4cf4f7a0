#include "practice/line_catcher.h"

#include <gtest/gtest.h>

namespace loftbeat::practice {
namespace {

Instant at(double seconds) { return instant_from_seconds(seconds); }

take::Event key(double when, take::EventKind kind) { return {at(when), kind, 0, 0, 60, 64, {}}; }

TEST(LineCatcher, GivesALineWhenItPausesAndBeginsAnew) {
  LineCatcher catcher;
  EXPECT_FALSE(catcher.paused(at(10)));
  catcher.add({at(0.5), take::EventKind::control, 0, 0, 64, 127, {}});
  EXPECT_FALSE(catcher.paused(at(10)));
  catcher.add(key(11, take::EventKind::note_on));
  catcher.add(key(12, take::EventKind::note_off));
  EXPECT_FALSE(catcher.paused(at(12.5)));
  const auto line = catcher.paused(at(12) + LineCatcher::kPause);
  ASSERT_TRUE(line);
  EXPECT_EQ(line->events.size(), 2u);
  EXPECT_FALSE(catcher.paused(at(30)));
  EXPECT_FALSE(catcher.taken());
  catcher.add(key(31, take::EventKind::note_on));
  const auto next = catcher.taken();
  ASSERT_TRUE(next);
  EXPECT_EQ(next->events.size(), 1u);
}

}  // namespace
}  // namespace loftbeat::practice
