#include "hearing/bands.h"

#include <cmath>
#include <numbers>

namespace loftbeat::hearing {
namespace {

double decades_from_1000(std::size_t band) {
  return (static_cast<double>(band) - static_cast<double>(kBand1000Hz)) / 10.0;
}

}  // namespace

double mid_hz(std::size_t band) { return 1000.0 * std::pow(10.0, decades_from_1000(band)); }

double lower_edge_hz(std::size_t band) {
  return 1000.0 * std::pow(10.0, decades_from_1000(band) - 0.05);
}

double upper_edge_hz(std::size_t band) {
  return 1000.0 * std::pow(10.0, decades_from_1000(band) + 0.05);
}

BandLevels silence() {
  BandLevels levels;
  levels.fill(kSilenceDb);
  return levels;
}

double level_from_power(double ratio) { return ratio > 0 ? 10.0 * std::log10(ratio) : kSilenceDb; }

double power_from_level(double level_db) {
  return std::exp(level_db * (std::numbers::ln10 / 10.0));
}

double power_sum(double a_db, double b_db) {
  if (a_db == kSilenceDb) return b_db;  // to the last digit: nothing added changes nothing
  if (b_db == kSilenceDb) return a_db;
  return level_from_power(power_from_level(a_db) + power_from_level(b_db));
}

BandLevels power_sum(const BandLevels& a, const BandLevels& b) {
  BandLevels sum;
  for (std::size_t i = 0; i < kBandCount; ++i) sum[i] = power_sum(a[i], b[i]);
  return sum;
}

double total_level(const BandLevels& levels) {
  double power = 0;
  for (const double level : levels) power += power_from_level(level);
  return level_from_power(power);
}

BandLevels raised(const BandLevels& levels, double by_db) {
  BandLevels changed = levels;
  for (double& level : changed) level += by_db;
  return changed;
}

double share_of_power(const BandLevels& levels, const BandMask& marked) {
  double all = 0;
  double part = 0;
  for (std::size_t i = 0; i < kBandCount; ++i) {
    const double power = power_from_level(levels[i]);
    all += power;
    if (marked[i]) part += power;
  }
  return all > 0 ? part / all : 0;
}

}  // namespace loftbeat::hearing
