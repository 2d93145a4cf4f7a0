// What may lie one movement apart, against the reckoning of hand work.

#include "advise/one_movement.h"

#include "random_case.h"

namespace loftbeat::advise {
namespace {

TEST(OneMovement, NeverDeniesWhatHandWorkCanDoInOne) {
  std::mt19937 random(11);
  const pipes::RankPowers ranks(parish().recipes);
  int denied = 0;
  int one = 0;
  for (int trial = 0; trial < 60; ++trial) {
    const RandomCase at(random, 6, ranks);
    const OneMovement apart(at.console);
    const auto family = chorus_family(at.organ, {});
    for (const organ::Registration& before : family) {
      const auto sounds = sounding_divisions(at.organ, before);
      for (const organ::Registration& after : family) {
        const organ::Registration ready = prepared(at.organ, before, after, sounds);
        const bool may =
            apart.may_lead(apart.controls(before), apart.controls(after), apart.silent(sounds));
        const std::size_t movements = hand_work(at.console, ready, after).movements.size();
        EXPECT_TRUE(may || movements > 1);
        one += movements <= 1 ? 1 : 0;
        denied += may ? 0 : 1;
      }
    }
  }
  EXPECT_GT(one, 0);
  EXPECT_GT(denied, one);  // and it does sort out most
}

}  // namespace
}  // namespace loftbeat::advise
