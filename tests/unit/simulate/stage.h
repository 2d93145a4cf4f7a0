#pragma once

#include <gtest/gtest.h>

#include "simulate/invented_hymn.h"
#include "simulate/model_players.h"
#include "simulate/perform.h"

namespace loftbeat::simulate {

// A tune with a plan of three verses and a whole play-over at 60 crotchets a minute, joined by
// holding three beats and lifting one.
struct Scene {
  music::Score score;
  plan::Plan plan;
  plan::Route route;
  Player player;

  [[nodiscard]] Performance play(std::uint64_t seed = 1) const {
    return perform({score, plan, route}, player, seed);
  }
};

inline Scene scene(const HymnShape& shape = {}, std::uint64_t seed = 1) {
  Scene made;
  made.score = invented_hymn(shape, seed);
  made.plan.tempo_bpm = 60;
  made.plan.verses = 3;
  made.plan.play_over.kind = plan::PlayOverKind::whole;
  made.plan.join = plan::Join{plan::JoinKind::hold_and_lift, 3, 1, 0};
  auto route = plan::make_route(made.plan, made.score);
  EXPECT_TRUE(route.ok());
  made.route = std::move(route).value();
  return made;
}

inline double ms_apart(Instant a, Instant b) { return milliseconds(a - b); }

}  // namespace loftbeat::simulate
