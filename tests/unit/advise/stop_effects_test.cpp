#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "parish.h"

namespace loftbeat::advise {
namespace {

Scene scene(const organ::Registration& drawn, const Hall& hall) {
  const Parish& all = parish();
  return {&all.organ, &all.powers, &hall, {200, 500}, sounding_chord(all.organ, drawn, kChord)};
}

TEST(StopEffects, AreWhatTheRegistrationWithAndWithoutGives) {
  const Parish& all = parish();
  const Hall hall = make_hall(all.church, 120, 120);
  const auto drawn = all.drawn({"Great Open Diapason 8", "Great Principal 4"});
  const Scene here = scene(drawn, hall);
  const auto heard_of = [&](const organ::Registration& registration) {
    return heard(hall, registration_power(all.organ, registration, all.powers, here.sounding),
                 here.sung);
  };
  const Heard now = heard_of(drawn);
  bool saw_mixture = false;
  for (const StopEffect& effect : stop_effects(here, drawn)) {
    const std::string name = organ::full_name(all.organ, all.organ.stops[effect.stop]);
    auto after = drawn;
    if (effect.move == StopEffect::Move::draw) {
      after.stops.push_back(effect.stop);
    } else {
      std::erase(after.stops, effect.stop);
    }
    const Change expected = change_between(now, heard_of(after));
    EXPECT_NEAR(effect.change.sone, expected.sone, 1e-6) << name;
    ASSERT_EQ(effect.change.acum.has_value(), expected.acum.has_value()) << name;
    if (expected.acum) {
      EXPECT_NEAR(*effect.change.acum, *expected.acum, 1e-6) << name;
    }
    EXPECT_NEAR(effect.change.lead_sone, expected.lead_sone, 1e-6) << name;
    if (name == "Great Mixture III") saw_mixture = true;
    EXPECT_EQ(name.find("Swell"), std::string::npos) << "no key plays the Swell: " << name;
  }
  EXPECT_TRUE(saw_mixture);
}

TEST(StopEffects, ComeWithTheLargestChangeOfSharpnessFirst) {
  const Parish& all = parish();
  const Hall hall = make_hall(all.church, 120, 120);
  const auto drawn = all.drawn({"Great Open Diapason 8"}, {"Swell to Great"});
  const auto effects = stop_effects(scene(drawn, hall), drawn);
  EXPECT_GT(effects.size(), 15U);  // both manuals and the pedals speak
  double before = 1e9;
  for (const StopEffect& effect : effects) {
    const double size = effect.change.acum ? std::abs(*effect.change.acum) : -1;
    EXPECT_LE(size, before);
    before = size;
  }
  // The only stop pushed in leaves silence: no sharpness, told last.
  EXPECT_FALSE(effects.back().change.acum.has_value());
}

TEST(StopEffects, SwapsStayInTheirDivisionAndAtEightFeet) {
  const Parish& all = parish();
  const Hall hall = make_hall(all.church, 120, 120);
  const auto drawn = all.drawn({"Great Open Diapason 8", "Great Principal 4", "Pedal Bourdon 16"});
  const auto swaps = swaps_at_8_foot(scene(drawn, hall), drawn);
  ASSERT_EQ(swaps.size(), 2U);  // Stopped Diapason and Dulciana
  for (const Swap& swap : swaps) {
    EXPECT_EQ(all.organ.stops[swap.in].division, kGreat);
    EXPECT_EQ(all.organ.stops[swap.in].feet, 8);
    const bool string = all.organ.stops[swap.in].family == organ::Family::string;
    EXPECT_EQ(swap.kind, string ? Swap::Kind::string : Swap::Kind::flue);
  }
}

TEST(StopEffects, UpperWorkIsFourFeetAndHigherAndMixtures) {
  const Parish& all = parish();
  std::vector<std::string> lower;
  for (const organ::Stop& stop : all.organ.stops) {
    if (!is_upper_work(stop)) lower.push_back(stop.pitch);
  }
  std::sort(lower.begin(), lower.end());
  lower.erase(std::unique(lower.begin(), lower.end()), lower.end());
  EXPECT_EQ(lower, (std::vector<std::string>{"16", "8"}));
}

}  // namespace
}  // namespace loftbeat::advise
