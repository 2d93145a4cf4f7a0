#include <gtest/gtest.h>

#include "parish.h"

namespace loftbeat::advise {
namespace {

TEST(Sounding, APipeThatTwoWaysReachSpeaksOnce) {
  const Parish& all = parish();
  // Great C4 and the pedal's C4 through Great to Pedal: one key of the Great.
  const auto drawn = all.drawn({"Great Open Diapason 8"}, {"Great to Pedal"});
  const auto once = sounding_chord(all.organ, drawn, std::vector<organ::Speaking>{{kGreat, 60}});
  const auto twice =
      sounding_chord(all.organ, drawn, std::vector<organ::Speaking>{{kGreat, 60}, {kPedal, 60}});
  expect_same(registration_power(all.organ, drawn, all.powers, once),
              registration_power(all.organ, drawn, all.powers, twice));
}

TEST(Sounding, PowersOfStopsAddUp) {
  const Parish& all = parish();
  const auto both = all.drawn({"Great Open Diapason 8", "Great Principal 4"});
  const auto chord = sounding_chord(all.organ, both, kChord);
  Power sum =
      registration_power(all.organ, all.drawn({"Great Open Diapason 8"}), all.powers, chord);
  add(sum, registration_power(all.organ, all.drawn({"Great Principal 4"}), all.powers, chord));
  expect_same(registration_power(all.organ, both, all.powers, chord), sum);
}

TEST(Sounding, ASwellBoxTakesFromItsDivisionAlone) {
  const Parish& all = parish();
  const std::vector<organ::Speaking> keys = {{kGreat, 60}, {kSwell, 60}};
  auto drawn = all.drawn({"Great Open Diapason 8"});
  const auto chord = sounding_chord(all.organ, drawn, keys);
  const Power open = registration_power(all.organ, drawn, all.powers, chord);
  drawn.swell[kSwell] = 0;
  expect_same(registration_power(all.organ, drawn, all.powers, chord), open);
  auto swell = all.drawn({"Swell Oboe 8"});
  const auto loud = levels_of(registration_power(all.organ, swell, all.powers, chord));
  swell.swell[kSwell] = 0;
  const auto shut = levels_of(registration_power(all.organ, swell, all.powers, chord));
  const auto& box = *all.organ.divisions[kSwell].box;
  for (std::size_t i = 10; i < loud.size(); ++i) {
    EXPECT_NEAR(shut[i] - loud[i], organ::box_gain_db(box, 0, hearing::mid_hz(i)), 1e-6);
  }
}

TEST(Sounding, TheMeanOfAHeldChordIsTheChord) {
  const Parish& all = parish();
  const auto drawn = all.drawn({"Great Open Diapason 8", "Pedal Bourdon 16"}, {"Great to Pedal"});
  const auto chord = sounding_chord(all.organ, drawn, kChord);
  const auto mean = mean_sounding(all.organ, drawn, held(3, 7));
  expect_same(registration_power(all.organ, drawn, all.powers, mean),
              registration_power(all.organ, drawn, all.powers, chord));
}

TEST(Sounding, SilenceIsNotCountedAndTimeWeighs) {
  const Parish& all = parish();
  const auto drawn = all.drawn({"Great Open Diapason 8"});
  auto keys = held(0, 1, {{kGreat, 60}});
  for (const KeySpan& key : held(5, 8, {{kGreat, 72}})) keys.push_back(key);
  const auto mean = mean_sounding(all.organ, drawn, keys);
  ASSERT_EQ(mean.size(), 2U);
  EXPECT_NEAR(mean[0].share, 0.25, 1e-12);
  EXPECT_NEAR(mean[1].share, 0.75, 1e-12);
}

TEST(Sounding, AKeyStruckAgainAtOnceAndAKeyHeldTwiceSoundOn) {
  const Parish& all = parish();
  const auto drawn = all.drawn({"Great Open Diapason 8"});
  auto keys = held(1, 2, {{kGreat, 60}});
  for (const KeySpan& key : held(0, 1, {{kGreat, 60}})) keys.push_back(key);
  for (const KeySpan& key : held(0.5, 1.5, {{kGreat, 60}})) keys.push_back(key);
  const auto mean = mean_sounding(all.organ, drawn, keys);
  ASSERT_EQ(mean.size(), 1U);
  EXPECT_NEAR(mean[0].share, 1, 1e-12);
}

TEST(Sounding, NoKeysAreNothing) {
  const Parish& all = parish();
  const auto drawn = all.drawn({"Great Open Diapason 8"});
  EXPECT_TRUE(mean_sounding(all.organ, drawn, {}).empty());
  EXPECT_TRUE(mean_sounding(all.organ, drawn, held(2, 2)).empty());
}

}  // namespace
}  // namespace loftbeat::advise
