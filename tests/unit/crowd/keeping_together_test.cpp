// The equations of keeping together against what they give in closed form, worked by hand.

#include "crowd/keeping_together.h"

#include <cmath>
#include <cstdlib>
#include <functional>
#include <vector>

#include <gtest/gtest.h>

namespace loftbeat::crowd {
namespace {

std::vector<double> knots_every(double beats, int count) {
  std::vector<double> places;
  places.reserve(static_cast<std::size_t>(count));
  for (int i = 0; i < count; ++i) places.push_back(beats * i);
  return places;
}

// People and organ in turn; the organ's beat k + 1 from the people's and the organ's beats so far.
using Organ =
    std::function<double(const std::vector<double>& sung, const std::vector<double>& heard)>;

struct Both {
  std::vector<double> sung;
  std::vector<double> heard;
  double period = 0;
};

Both together(KeepingTogether::Gains gains, double phase, double spacing, int count, double entry,
              double period, const Organ& organ) {
  KeepingTogether people(gains, knots_every(spacing, count), 0, entry, period);
  Both both;
  both.sung = {entry};
  both.heard = {0};
  people.hear(0, 0, phase, 0);
  for (int k = 1; k < count; ++k) {
    const double next = organ(both.sung, both.heard);
    both.heard.push_back(next);
    people.pass(0);
    both.sung.push_back(people.time_of_knot(static_cast<std::size_t>(k)));
    people.hear(static_cast<std::size_t>(k), next, phase, 0);
  }
  both.period = people.period_s();
  return both;
}

Organ steady(double period) {
  return [period](const auto&, const std::vector<double>& heard) { return heard.back() + period; };
}

// a A = r P. Source: worked by hand from the recursion (header).
TEST(KeepingTogether, BehindASteadyOrganSettlesAtTheClosedForm) {
  for (const double r : {0.0, 0.01, 0.04, 0.08})
    for (const double a : {0.1, 0.25, 0.35})
      for (const double period : {0.5, 0.75, 1.0}) {
        const Both both = together({r, 0.3}, a, 1, 400, 0.3, period, steady(period));
        const double lag = both.sung.back() - both.heard.back();
        EXPECT_NEAR(lag, r * period / a, 1e-9) << r << " " << a << " " << period;
        EXPECT_NEAR(both.period, period, 1e-9);
      }
}

// The header's worked numbers: 80 a minute, 4 %.
TEST(KeepingTogether, WorkedNumbersOfTheHeaderHold) {
  for (const auto& [a, ms] : {std::pair{0.35, 85.7}, {0.10, 300.0}}) {
    const Both both = together({0.04, 0.3}, a, 1, 400, 0.3, 0.75, steady(0.75));
    EXPECT_NEAR(1000 * (both.sung.back() - both.heard.back()), ms, 0.05);
  }
}

// The way there: with T = P from the start, A(k) - A* shrinks by (1 - a) a beat.
TEST(KeepingTogether, LagComesInByOneLessThePhaseGainABeat) {
  const double r = 0.04;
  const double a = 0.2;
  const double period = 0.75;
  const Both both = together({r, 0.3}, a, 1, 40, 0.3, period, steady(period));
  const double rest = r * period / a;
  for (std::size_t k = 0; k < both.sung.size(); ++k)
    EXPECT_NEAR(both.sung[k] - both.heard[k],
                rest + (0.3 - rest) * std::pow(1 - a, static_cast<double>(k)), 1e-9)
        << k;
}

// An organ that falls on every beat of the people's: both slow by r b a beat, without bound.
TEST(KeepingTogether, AnOrganThatPlaysWithThePeopleSlowsWithoutBoundAtTheRateOfTheEquations) {
  const double r = 0.04;
  const double b = 0.3;
  KeepingTogether people({r, b}, knots_every(1, 600), 0, 0, 0.75);
  people.hear(0, 0, 0.25, 0);
  double before = 0;
  double step = 0;
  for (std::size_t k = 1; k < 600; ++k) {
    people.pass(0);
    const double sung = people.time_of_knot(k);
    if (k > 1) {
      EXPECT_NEAR((sung - before) / step, 1 + r * b, 1e-9) << k;
    }
    step = sung - before;
    before = sung;
    people.hear(k, sung, 0.25, 0);
  }
  EXPECT_GT(step, 0.75 * 500);  // no bound: 1.012^598 is 1253
}

// A player who corrects as the people do: I = P + g A, P += h A. All grow by a factor 1 + e a beat,
// where e solves e (e + b)(e + a) = (r b - e)(h + g e).
// Source: worked by hand, every quantity put as a multiple of (1 + e)^k.
double growth(double r, double a, double b, double g, double h) {
  double low = 0;
  double high = r * b;
  for (int i = 0; i < 200; ++i) {
    const double e = (low + high) / 2;
    (e * (e + b) * (e + a) < (r * b - e) * (h + g * e) ? low : high) = e;
  }
  return low;
}

TEST(KeepingTogether, APlayerWhoCorrectsHalfwayGrowsAsTheCharacteristicEquationSays) {
  for (const double h : {0.02, 0.05, 0.1, 0.2})
    for (const double g : {0.0, 0.1, 0.2})
      for (const double r : {0.02, 0.04, 0.08}) {
        const double a = 0.25;
        const double b = 0.3;
        double own = 0.75;
        const Both both =
            together({r, b}, a, 1, 400, 0.05, 0.75,
                     [&](const std::vector<double>& sung, const std::vector<double>& heard) {
                       const double lag = sung.back() - heard.back();
                       const double next = heard.back() + own + g * lag;
                       own += h * lag;
                       return next;
                     });
        const std::size_t n = both.heard.size();
        const double last = both.heard[n - 1] - both.heard[n - 2];
        const double before = both.heard[n - 2] - both.heard[n - 3];
        const double e = growth(r, a, b, g, h);
        EXPECT_GT(e, 0);
        EXPECT_NEAR(last / before - 1, e, 1e-6) << h << " " << g << " " << r;
      }
}

// Half beats and double beats come to nearly the same lag as beats.
TEST(KeepingTogether, DensityOfKnotsHardlyChangesTheLag) {
  const double r = 0.04;
  const double a = 0.25;
  for (const double spacing : {0.5, 1.0, 2.0}) {
    const Both both = together({r, 0.3}, a, spacing, 400, 0.3, 0.75, steady(0.75 * spacing));
    const double gain = 1 - std::pow(1 - a, spacing);
    EXPECT_NEAR(both.sung.back() - both.heard.back(), r * 0.75 * spacing / gain, 1e-9);
  }
}

TEST(KeepingTogether, WhatIsPlannedNeverRunsBackwardsAndNoStepLeavesItsBounds) {
  std::uint64_t state = 7;
  const auto chance = [&] {
    state = state * 6364136223846793005ULL + 1442695040888963407ULL;
    return static_cast<double>(state >> 33U) / 2147483648.0;
  };
  KeepingTogether people({0.08, 0.3}, knots_every(1, 500), 0, 0, 0.75);
  double before = 0;
  double heard = 0;
  for (std::size_t k = 1; k < 500; ++k) {
    heard += 0.2 + 1.4 * chance();
    people.hear(k, heard, 0.35, before);
    people.pass(0.02 * (chance() - 0.5));
    EXPECT_GE(people.time_of_knot(k), before);
    before = people.time_of_knot(k);
    EXPECT_LE(people.time_of(static_cast<double>(k) + 0.5), people.next_s());
    EXPECT_NEAR(people.place_at(people.time_of(static_cast<double>(k) + 0.4)),
                static_cast<double>(k) + 0.4, 1e-6);
  }
}

}  // namespace
}  // namespace loftbeat::crowd
