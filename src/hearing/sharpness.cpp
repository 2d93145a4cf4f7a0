#include "hearing/sharpness.h"

#include <array>
#include <cmath>

namespace loftbeat::hearing {
namespace {

constexpr double kScale = 0.11;
constexpr double kStepBark = 0.1;

double bark_of_step(std::size_t step) { return static_cast<double>(step + 1) / 10.0; }

// What each sample of N' counts for, put together once.
const std::array<double, Loudness::kSteps>& moments() {
  static const auto table = [] {
    std::array<double, Loudness::kSteps> built{};
    for (std::size_t i = 0; i < built.size(); ++i) {
      const double bark = bark_of_step(i);
      built[i] = kScale * kStepBark * sharpness_weight(bark) * bark;
    }
    return built;
  }();
  return table;
}

}  // namespace

double sharpness_weight(double bark) {
  return bark <= 15.8 ? 1.0 : 0.15 * std::exp(0.42 * (bark - 15.8)) + 0.85;
}

std::optional<double> sharpness_acum(const Loudness& of) {
  if (!(of.sone > 0)) return std::nullopt;
  const auto& weights = moments();
  double sum = 0;
  for (std::size_t i = 0; i < weights.size(); ++i) sum += of.specific[i] * weights[i];
  return sum / of.sone;
}

}  // namespace loftbeat::hearing
