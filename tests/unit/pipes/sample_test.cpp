// Laws of the samples: no click in the loop, a clean join of beginning and loop, the stated level.

#include "pipes/sample.h"

#include <fftw3.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <set>
#include <vector>

#include "hearing/bands.h"
#include "recipe_fixture.h"

namespace loftbeat::pipes {
namespace {

std::vector<double> loop_of(const Sample& sample) {
  std::vector<double> loop;
  for (std::size_t i = sample.loop_start; i < sample.loop_end; ++i)
    loop.push_back(sample.points[i] / 32768.0);
  return loop;
}

using Bins = std::set<std::size_t>;

// What is left of one loop when its tone is taken out: rounding to 16 bits, and clicks.
std::vector<double> without(const std::vector<double>& loop, const Bins& tone) {
  std::vector<double> points = loop;
  std::vector<fftw_complex> bins(loop.size() / 2 + 1);
  const auto size = static_cast<int>(loop.size());
  fftw_plan there = fftw_plan_dft_r2c_1d(size, points.data(), bins.data(), FFTW_ESTIMATE);
  fftw_plan back = fftw_plan_dft_c2r_1d(size, bins.data(), points.data(), FFTW_ESTIMATE);
  fftw_execute(there);
  for (const std::size_t bin : tone) bins[bin][0] = bins[bin][1] = 0;
  fftw_execute(back);
  fftw_destroy_plan(there);
  fftw_destroy_plan(back);
  for (double& point : points) point /= static_cast<double>(loop.size());
  return points;
}

double mean_square(const std::vector<double>& points) {
  double sum = 0;
  for (const double point : points) sum += point * point;
  return sum / static_cast<double>(points.size());
}

// Everything beside the tone, against it, dB.
double beside_db(const std::vector<double>& loop, const Bins& tone) {
  return 10 * std::log10(mean_square(without(loop, tone)) / mean_square(loop));
}

// What the joint adds: the mean square of the rest within 64 points of it (1.3 ms either way)
// beyond that of the rest on the whole, against the tone's, dB. The rounding lies all over the loop
// alike and is no click.
double click_db(const std::vector<double>& loop, const Bins& tone) {
  constexpr std::size_t kNear = 64;
  const std::vector<double> rest = without(loop, tone);
  std::vector<double> near(rest.begin(), rest.begin() + kNear);
  near.insert(near.end(), rest.end() - kNear, rest.end());
  const double added = std::max(mean_square(near) - mean_square(rest), 1e-15);
  return 10 * std::log10(added / mean_square(loop));
}

Bins tone_bins(const Rank& rank, const Zone& zone) {
  Bins bins;
  for (const LoopTone& tone : make_loop(rank, zone, steady_sound(rank, zone)).tones)
    bins.insert(tone.bin);
  return bins;
}

// The measure itself must see a click: a single point a hundredth of the tone's amplitude off, and
// a period that does not fit.
TEST(LoopClicks, AreSeenByTheMeasure) {
  std::vector<double> loop(19200);
  const auto fill = [&](double periods) {
    for (std::size_t i = 0; i < loop.size(); ++i)
      loop[i] = 0.1 * std::cos(2 * M_PI * periods * static_cast<double>(i) / 19200);
  };
  fill(100);
  EXPECT_LT(click_db(loop, {100}), -100);
  EXPECT_LT(beside_db(loop, {100}), -100);
  loop[0] += 0.001;
  EXPECT_NEAR(beside_db(loop, {100}), 10 * std::log10(1e-6 / 19200 / 0.005), 0.5);  // -80 dB
  EXPECT_NEAR(click_db(loop, {100}), 10 * std::log10(1e-6 / 128 / 0.005), 0.5);     // -58 dB
  fill(100.01);
  EXPECT_GT(click_db(loop, {100}), -55);
}

TEST(LoopClicks, LieBelowMinus70DbInEveryRank) {
  double worst = -300;
  std::size_t at = 0;
  for (Rank rank : tried_ranks()) {
    rank.wind.noise_db = -200;  // else the wind is all one sees
    at = (at + 7) % zones().size();
    for (const Zone& zone : {zones()[at], zones()[(at + 11) % zones().size()]}) {
      const double db = click_db(loop_of(make_sample(rank, zone)), tone_bins(rank, zone));
      EXPECT_LT(db, -70) << rank.id << " key " << zone.root;
      worst = std::max(worst, db);
    }
  }
  std::printf("the joint of the loop adds %.1f dB at most\n", worst);
}

// The strictest reading: rounding to 16 bits counts too. It weighs most on the weakest pipes, which
// are the highest.
TEST(LoopClicks, AndAllElseBesideTheToneLieBelowMinus70DbInTheCompass) {
  double worst = -300;
  std::size_t at = 2;
  for (Rank rank : tried_ranks()) {
    rank.wind.noise_db = -200;
    at = 2 + (at + 5) % 20;  // the zones from key 36 to 95
    for (const Zone& zone : {zone_of(96), zone_of(94), zones()[at]}) {
      const double db = beside_db(loop_of(make_sample(rank, zone)), tone_bins(rank, zone));
      EXPECT_LT(db, -70) << rank.id << " key " << zone.root;
      worst = std::max(worst, db);
    }
  }
  std::printf("all that is beside the tone: %.1f dB at most\n", worst);
}

TEST(Sample, HasTheSamePointsRoundBothEndsOfItsLoop) {
  for (const Rank& rank : tried_ranks()) {
    const Sample sample = make_sample(rank, zones()[9]);
    ASSERT_GE(sample.loop_start, 32U);
    ASSERT_GE(sample.points.size(), sample.loop_end + 32);
    const auto at = [&](std::size_t i) { return sample.points[i]; };
    for (std::size_t i = 0; i < 32; ++i) {
      EXPECT_EQ(at(sample.loop_start + i), at(sample.loop_end + i)) << rank.id << " +" << i;
      EXPECT_EQ(at(sample.loop_start - 1 - i), at(sample.loop_end - 1 - i)) << rank.id << " -" << i;
    }
  }
}

// Where the computed beginning meets the loop nothing may jump: the point 32 before the loop is as
// near its neighbours as the same point of the loop is.
TEST(Sample, BeginsWithoutAJumpAndRunsIntoItsLoop) {
  for (const Rank& rank : tried_ranks()) {
    const Sample sample = make_sample(rank, zones()[12]);
    const std::size_t seam = sample.loop_start - 32;
    const std::size_t twin = sample.loop_end - 32;
    for (std::size_t i = 0; i < 16; ++i) {
      const int apart = sample.points[seam - 1 - i] - sample.points[twin - 1 - i];
      EXPECT_LE(std::abs(apart), 8) << rank.id << " " << i;
    }
    EXPECT_LE(std::abs(sample.points[0]), 40) << rank.id;
    EXPECT_LE(sample.peak, 1) << rank.id;
  }
}

TEST(Sample, HasTheStatedPowerAndItIsPipePowersTotal) {
  for (const Rank& rank : tried_ranks()) {
    const Zone& zone = zones()[10];
    const std::vector<double> loop = loop_of(make_sample(rank, zone));
    double square = 0;
    for (const double point : loop) square += point * point;
    const double power =
        10 * std::log10(square / static_cast<double>(loop.size())) + kFullScalePowerDb;
    const double stated = rank.power_db + rank.power_per_octave_db * (zone.root - 60) / 12.0;
    EXPECT_NEAR(power, stated, rank.scatter.db + 0.05) << rank.id;
    // The bands overlap a little, so that their sum is some tenths off the whole.
    EXPECT_NEAR(hearing::total_level(pipe_power(rank, zone.root)), power, 0.35) << rank.id;
  }
}

TEST(Sample, SpeaksLaterInTheBass) {
  const Rank rank = plain_rank();
  std::size_t before = 1'000'000;
  for (const Zone& zone : zones()) {
    const std::size_t speech = make_sample(rank, zone).loop_start;
    EXPECT_LT(speech, before) << zone.root;
    before = speech;
  }
}

// Energy of the first part of the speech against the steady tone grows from little to all of it.
TEST(Sample, ComesInGraduallyAndSteadies) {
  for (const char* id : {"principal-8", "stopped-flute-8", "string-8", "reed-8"}) {
    const Recipes recipes = shipped_recipes();
    const Sample sample = make_sample(*recipes.find(id), zones()[8]);
    const auto power = [&](std::size_t from, std::size_t to) {
      double sum = 0;
      for (std::size_t i = from; i < to; ++i)
        sum += static_cast<double>(sample.points[i]) * sample.points[i];
      return sum / static_cast<double>(to - from);
    };
    const double steady = power(sample.loop_start, sample.loop_end);
    const std::size_t tenth = sample.loop_start / 10;
    EXPECT_LT(power(0, tenth), 0.1 * steady) << id;
    EXPECT_GT(power(8 * tenth, sample.loop_start), 0.5 * steady) << id;
    EXPECT_LT(power(4 * tenth, 5 * tenth), 1.5 * steady) << id;
  }
}

TEST(LoopLength, FitsSeveralPitchesAtOnce) {
  const std::vector<double> hz = {1046.9, 1568.2, 2092.4, 3137.0};
  const LoopLength length = loop_length(hz, 36000, 45600);
  EXPECT_LT(length.worst_cents, 1.0);
  for (std::size_t i = 0; i < hz.size(); ++i) {
    const double sounded =
        static_cast<double>(length.periods[i]) * kSampleRate / static_cast<double>(length.points);
    EXPECT_NEAR(1200 * std::log2(sounded / hz[i]), 0, length.worst_cents + 1e-9);
  }
  EXPECT_EQ(loop_length({480}, 19200, 19300).points, 19200U);
}

}  // namespace
}  // namespace loftbeat::pipes
