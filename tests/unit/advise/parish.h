#pragma once

#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "advise/advise.h"
#include "organ/organ.h"
#include "pipes/pipes.h"
#include "room/room.h"

namespace loftbeat::advise {

// The demo parish's organ of two manuals with the ranks of the tree, in its church; read once.
struct Parish {
  organ::Organ organ;
  room::Church church;
  pipes::Recipes recipes;
  StopPowers powers;

  [[nodiscard]] organ::Registration drawn(const std::vector<std::string>& stops,
                                          const std::vector<std::string>& couplers = {}) const {
    plan::RegistrationPlan names;
    names.stops = stops;
    names.couplers = couplers;
    const auto resolved = organ::resolve(organ, names, "");
    EXPECT_TRUE(resolved.ok()) << to_string(resolved.error());
    return resolved.ok() ? *resolved : organ::empty_registration(organ);
  }
};

inline Parish read_parish() {
  const std::string root = LOFTBEAT_SOURCE_DIR;
  auto organ = organ::read_organ(root + "/sessions/quaverham/quaverham.organ.toml");
  auto church = room::read_church(root + "/sessions/quaverham/quaverham.church.toml");
  auto recipes = pipes::read_recipes(root + "/soundfonts");
  if (!organ.ok() || !church.ok() || !recipes.ok()) {
    ADD_FAILURE() << "the demo parish or the pipe recipes cannot be read";
    return {};
  }
  const pipes::RankPowers ranks(*recipes);
  auto powers = StopPowers::make(*organ, *recipes, ranks);
  EXPECT_TRUE(powers.ok()) << to_string(powers.error());
  if (!powers.ok()) return {};
  return {*organ, *church, *recipes, *powers};
}

inline const Parish& parish() {
  static const Parish read = read_parish();
  return read;
}

inline constexpr std::size_t kGreat = 0;
inline constexpr std::size_t kSwell = 1;
inline constexpr std::size_t kPedal = 2;

// G major in four parts, the bass on the pedals.
inline const std::vector<organ::Speaking> kChord = {
    {kGreat, 71}, {kGreat, 67}, {kGreat, 62}, {kPedal, 43}};

inline std::vector<KeySpan> held(double from_s, double to_s,
                                 const std::vector<organ::Speaking>& keys = kChord) {
  std::vector<KeySpan> spans;
  for (const organ::Speaking& key : keys) spans.push_back({from_s, to_s, key});
  return spans;
}

inline void expect_same(const Power& a, const Power& b) {
  for (std::size_t i = 0; i < a.size(); ++i) {
    EXPECT_NEAR(a[i], b[i], 1e-9 * (1 + std::abs(a[i]))) << "band " << i;
  }
}

}  // namespace loftbeat::advise
