#include <gtest/gtest.h>

#include <cmath>

#include "parish.h"

namespace loftbeat::advise {
namespace {

// A church whose time is the same in every band, as nearly as air allows.
Hall hall_of(const Parish& all, double seconds) {
  Hall hall = make_hall(all.church, 0, 0);
  hall.acoustics.sabine_s.fill(seconds);
  return hall;
}

double steady_sone(const Parish& all, const organ::Registration& drawn, const Hall& hall) {
  const auto chord = sounding_chord(all.organ, drawn, kChord);
  const Power power = registration_power(all.organ, drawn, all.powers, chord);
  return heard(hall, power, {200, 400}).sone;
}

TEST(OverTime, ALongChordReachesItsSteadyLoudness) {
  const Parish& all = parish();
  const auto drawn = all.drawn({"Great Open Diapason 8", "Great Principal 4", "Pedal Bourdon 16"});
  const Hall hall = hall_of(all, 2);
  const auto time = measure_over_time(all.organ, drawn, all.powers, held(0, 30), hall);
  ASSERT_TRUE(time.has_value());
  EXPECT_NEAR(time->seconds, 30, 1e-12);
  const double steady = steady_sone(all, drawn, hall);
  EXPECT_NEAR(time->n5_sone, steady, 0.001 * steady);
  EXPECT_NEAR(time->n50_sone, steady, 0.001 * steady);
  EXPECT_LE(time->n95_sone, time->n50_sone);
}

TEST(OverTime, SoundDiesAwayAsTheChurchRings) {
  // After a long chord the field falls by 60 dB in T: a second of T = 2 s is 30 dB.
  const Parish& all = parish();
  const auto drawn = all.drawn({"Great Open Diapason 8"});
  const Hall hall = hall_of(all, 2);
  // 20 s of chord, then silence until a touch of a key at 22 s ends the stretch: 20 of 221 windows
  // ring on or are silent, more than the 5 % that N95 leaves out.
  auto keys = held(0, 20);
  keys.push_back({22.0, 22.0001, {kGreat, 60}});
  const auto time = measure_over_time(all.organ, drawn, all.powers, keys, hall);
  ASSERT_TRUE(time.has_value());
  const auto chord = sounding_chord(all.organ, drawn, kChord);
  Power faint{};
  // N95 is the 12th softest of 221 windows. The softest is the last, 21 windows after the chord, so
  // it is the one 10 windows after: a second, 30 dB down.
  add(faint, registration_power(all.organ, drawn, all.powers, chord), std::pow(10, -3.0));
  const double second_later = heard(hall, faint, {200, 400}).sone;
  EXPECT_NEAR(time->n95_sone, second_later, 1e-6 * second_later);
  const auto dry = measure_over_time(all.organ, drawn, all.powers, keys, hall_of(all, 0.05));
  EXPECT_LT(dry->n95_sone, second_later);  // nothing rings on
  EXPECT_NEAR(dry->n50_sone, time->n50_sone, 0.001 * time->n50_sone);
}

TEST(OverTime, TwiceTheMusicHasTheSamePercentiles) {
  const Parish& all = parish();
  const auto drawn = all.drawn({"Great Open Diapason 8"});
  const Hall hall = hall_of(all, 0.05);
  std::vector<KeySpan> keys;
  for (int i = 0; i < 40; ++i) {
    for (const KeySpan& key : held(i, i + 0.5, {{kGreat, 60 + i % 2 * 7}})) keys.push_back(key);
  }
  const auto once = measure_over_time(all.organ, drawn, all.powers, keys, hall);
  const std::size_t count = keys.size();
  for (std::size_t i = 0; i < count; ++i) {
    KeySpan later = keys[i];
    later.on_s += 40;
    later.off_s += 40;
    keys.push_back(later);
  }
  const auto twice = measure_over_time(all.organ, drawn, all.powers, keys, hall);
  EXPECT_NEAR(once->n5_sone, twice->n5_sone, 0.02 * once->n5_sone);
  EXPECT_NEAR(once->n95_sone, twice->n95_sone, 0.02 * once->n5_sone);
}

TEST(OverTime, NoKeysAreNothingAndLongSpansAreCut) {
  const Parish& all = parish();
  const auto drawn = all.drawn({"Great Open Diapason 8"});
  const Hall hall = hall_of(all, 1);
  EXPECT_FALSE(measure_over_time(all.organ, drawn, all.powers, {}, hall).has_value());
  auto keys = held(0, 1, {{kGreat, 60}});
  keys.push_back({1e7, 1e7 + 1, {kGreat, 60}});
  EXPECT_NEAR(measure_over_time(all.organ, drawn, all.powers, keys, hall)->seconds, 3600, 1e-9);
}

}  // namespace
}  // namespace loftbeat::advise
