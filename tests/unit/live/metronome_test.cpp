// Clicks on samples. Where each begins is counted from the list; no outside figure is needed.

#include "live/rt/metronome.h"

#include <cmath>

#include <gtest/gtest.h>

namespace loftbeat::live::rt {
namespace {

constexpr double kClickRate = 48000;

std::vector<float> rendered(Metronome& metronome, std::size_t frames, std::size_t step,
                            std::int64_t first = 0) {
  std::vector<float> left(frames);
  std::vector<float> right(frames);
  for (std::size_t at = 0; at < frames; at += step)
    metronome.add_to(left.data() + at, right.data() + at, std::min(step, frames - at),
                     first + static_cast<std::int64_t>(at));
  EXPECT_EQ(left, right);
  return left;
}

std::vector<std::size_t> begins(const std::vector<float>& samples) {
  std::vector<std::size_t> found;
  std::size_t quiet = 1000;
  for (std::size_t i = 0; i < samples.size(); ++i) {
    if (std::abs(samples[i]) > 1e-6F) {
      if (quiet > 400) found.push_back(i);
      quiet = 0;
    } else {
      ++quiet;
    }
  }
  return found;
}

TEST(Metronome, EachClickBeginsAtItsVeryFrame) {
  std::vector<ClickAt> clicks;
  std::vector<std::size_t> expected;
  for (int i = 0; i < 20; ++i) {
    clicks.push_back({static_cast<std::int64_t>(i) * 9973, i % 4 == 0});
    expected.push_back(static_cast<std::size_t>(5001 + i * 9973));
  }
  Metronome metronome(clicks, kClickRate);
  metronome.start(5001);
  EXPECT_EQ(begins(rendered(metronome, 210'000, 128)), expected);
}

TEST(Metronome, SoundsTheSameInWhateverPortions) {
  std::vector<ClickAt> clicks;
  for (int i = 0; i < 9; ++i) clicks.push_back({static_cast<std::int64_t>(i) * 1200, i % 3 == 0});
  const auto with = [&](std::size_t step) {
    Metronome metronome(clicks, kClickRate);
    metronome.start(10);
    return rendered(metronome, 12'000, step);
  };
  const auto whole = with(12'000);
  EXPECT_EQ(with(1), whole);
  EXPECT_EQ(with(64), whole);
  EXPECT_EQ(with(777), whole);
}

TEST(Metronome, PeaksAtTheLevelAskedFor) {
  for (const double db : {-40.0, -20.0, -6.0}) {
    Metronome metronome({{0, true}, {4800, false}}, kClickRate, db);
    metronome.start(0);
    float peak = 0;
    for (const float sample : rendered(metronome, 9600, 128))
      peak = std::max(peak, std::abs(sample));
    EXPECT_NEAR(20 * std::log10(peak), db, 0.01);
  }
}

TEST(Metronome, WhatLiesBeforeNowIsSilentAndStoppingEndsIt) {
  Metronome metronome({{0, true}, {4800, false}, {9600, false}}, kClickRate);
  metronome.start(100);
  const auto late = rendered(metronome, 8000, 128, 3000);
  EXPECT_EQ(begins(late), (std::vector<std::size_t>{1900, 6700}));
  metronome.stop();
  EXPECT_TRUE(begins(rendered(metronome, 8000, 128, 11'000)).empty());
  metronome.start(20'000);
  EXPECT_EQ(begins(rendered(metronome, 12'000, 128, 19'000)).size(), 3U);
}

}  // namespace
}  // namespace loftbeat::live::rt
