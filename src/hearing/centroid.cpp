#include "hearing/centroid.h"

namespace loftbeat::hearing {
namespace {

class PowerMean {
 public:
  void add(double hz, double level_db) {
    const double power = power_from_level(level_db);
    power_ += power;
    moment_ += power * hz;
  }
  [[nodiscard]] std::optional<double> value() const {
    if (power_ <= 0) return std::nullopt;
    return moment_ / power_;
  }

 private:
  double power_ = 0;
  double moment_ = 0;
};

}  // namespace

std::optional<double> centroid_hz(std::span<const Partial> partials) {
  PowerMean mean;
  for (const Partial& partial : partials) mean.add(partial.hz, partial.level_db);
  return mean.value();
}

std::optional<double> centroid_hz(const BandLevels& levels) {
  PowerMean mean;
  for (std::size_t i = 0; i < kBandCount; ++i) mean.add(mid_hz(i), levels[i]);
  return mean.value();
}

}  // namespace loftbeat::hearing
