#include "base/inverse_transform.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <thread>
#include <vector>

namespace loftbeat {
namespace {

constexpr double kTwoPi = 2 * std::numbers::pi;

// The sum as the header writes it, term by term.
double cosine(std::size_t bin, std::size_t n, std::size_t samples, double amplitude, double phase) {
  const double turns = static_cast<double>(bin * n) / static_cast<double>(samples);
  return amplitude * std::cos(kTwoPi * turns + phase);
}

TEST(InverseTransform, ATwoToneSpectrumIsTheSumOfItsCosines) {
  for (const std::size_t samples : {64U, 90U, 97U}) {
    InverseTransform transform(samples);
    transform.set(3, std::polar(0.5, 0.4));
    transform.add(3, std::polar(0.5, 0.4));
    transform.add(20, std::polar(0.25, -1.0));
    const double* signal = transform.signal();
    for (std::size_t n = 0; n < samples; ++n) {
      const double expected = cosine(3, n, samples, 2, 0.4) + cosine(20, n, samples, 0.5, -1.0);
      EXPECT_NEAR(signal[n], expected, 1e-12) << samples << " samples, at " << n;
    }
  }
}

TEST(InverseTransform, ClearedItIsSilent) {
  InverseTransform transform(32);
  transform.set(1, 1);
  static_cast<void>(transform.signal());
  transform.clear();
  const double* signal = transform.signal();
  for (std::size_t n = 0; n < 32; ++n) EXPECT_EQ(signal[n], 0.0);
}

TEST(InverseTransform, ThreadsMayMakeOneEach) {
  std::vector<double> first(8);
  std::vector<std::thread> threads;
  for (std::size_t i = 0; i < first.size(); ++i) {
    threads.emplace_back([&first, i] {
      for (int again = 0; again < 20; ++again) {
        InverseTransform transform(1000 + 2 * i);
        transform.set(1, 0.5);
        first[i] = transform.signal()[0];
      }
    });
  }
  for (std::thread& thread : threads) thread.join();
  for (const double value : first) EXPECT_NEAR(value, 1, 1e-12);
}

}  // namespace
}  // namespace loftbeat
