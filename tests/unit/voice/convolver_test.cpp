#include "voice/rt/convolver.h"

#include <cmath>
#include <random>
#include <vector>

#include <gtest/gtest.h>

namespace loftbeat::voice::rt {
namespace {

std::vector<float> noise(std::size_t length, unsigned seed) {
  std::mt19937 random(seed);
  std::normal_distribution<float> value(0, 1);
  std::vector<float> samples(length);
  for (float& sample : samples) sample = value(random);
  return samples;
}

double convolved(const std::vector<float>& in, const std::vector<float>& response, std::size_t at) {
  double sum = 0;
  for (std::size_t i = 0; i < response.size() && i <= at; ++i)
    sum += static_cast<double>(response[i]) * static_cast<double>(in[at - i]);
  return sum;
}

// The sum written out is the oracle; sizes on both sides of every edge between parts.
TEST(Convolver, GivesTheConvolutionWithoutDelayWhateverTheSizes) {
  for (const std::size_t quantum : {64U, 128U, 1024U, 2048U, 8192U}) {
    for (const std::size_t length : {1U, 63U, 64U, 65U, 2048U, 2049U, 5000U, 9000U}) {
      const std::vector<float> in = noise(quantum * (16384 / quantum), 1);
      Convolver::Spec spec{noise(length, 2), noise(length / 2 + 1, 3), quantum};
      const auto convolver = Convolver::make(spec);
      ASSERT_TRUE(convolver.ok());
      std::vector<float> left(in.size());
      std::vector<float> right(in.size());
      for (std::size_t at = 0; at < in.size(); at += quantum)
        (*convolver)->process(in.data() + at, left.data() + at, right.data() + at);
      const double bound = 2e-4 * std::sqrt(static_cast<double>(length));
      for (std::size_t i = 0; i < in.size(); i += 61) {
        ASSERT_NEAR(left[i], convolved(in, spec.left, i), bound)
            << quantum << " " << length << " " << i;
        ASSERT_NEAR(right[i], convolved(in, spec.right, i), bound);
      }
    }
  }
}

TEST(Convolver, RefusesWhatItCannotDo) {
  const auto refused = [](Convolver::Spec spec) { return !Convolver::make(spec).ok(); };
  EXPECT_TRUE(refused({{}, {}, 128}));
  EXPECT_TRUE(refused({{1}, {1}, 100}));
  EXPECT_TRUE(refused({{1}, {1}, 32}));
  EXPECT_TRUE(refused({{1}, {1}, 16384}));
  EXPECT_TRUE(refused({std::vector<float>(20 * 48000 + 1), {1}, 128}));
}

}  // namespace
}  // namespace loftbeat::voice::rt
