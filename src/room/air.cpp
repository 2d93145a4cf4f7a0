#include "room/air.h"

#include <cmath>
#include <numbers>

namespace loftbeat::room {
namespace {

constexpr double kReferenceKelvin = 293.15;
constexpr double kTriplePointKelvin = 273.16;
constexpr double kReferenceKpa = 101.325;

double kelvin(const Air& air) { return air.temperature_c + 273.15; }

// Molar concentration of water vapour, percent.
double water_percent(const Air& air) {
  const double exponent = -6.8346 * std::pow(kTriplePointKelvin / kelvin(air), 1.261) + 4.6151;
  return air.humidity_percent * std::pow(10.0, exponent) * kReferenceKpa / air.pressure_kpa;
}

double oxygen_relaxation_hz(const Air& air) {
  const double h = water_percent(air);
  return air.pressure_kpa / kReferenceKpa * (24.0 + 4.04e4 * h * (0.02 + h) / (0.391 + h));
}

double nitrogen_relaxation_hz(const Air& air) {
  const double ratio = kelvin(air) / kReferenceKelvin;
  return air.pressure_kpa / kReferenceKpa / std::sqrt(ratio) *
         (9.0 + 280.0 * water_percent(air) * std::exp(-4.170 * (1.0 / std::cbrt(ratio) - 1.0)));
}

}  // namespace

double air_attenuation_db_per_m(const Air& air, double hz) {
  const double t = kelvin(air);
  const double ratio = t / kReferenceKelvin;
  const double f2 = hz * hz;
  const double oxygen = oxygen_relaxation_hz(air);
  const double nitrogen = nitrogen_relaxation_hz(air);
  const double classical = 1.84e-11 * kReferenceKpa / air.pressure_kpa * std::sqrt(ratio);
  const double relaxation =
      std::pow(ratio, -2.5) * (0.01275 * std::exp(-2239.1 / t) / (oxygen + f2 / oxygen) +
                               0.1068 * std::exp(-3352.0 / t) / (nitrogen + f2 / nitrogen));
  return 8.686 * f2 * (classical + relaxation);
}

double air_energy_constant_per_m(const Air& air, double hz) {
  return air_attenuation_db_per_m(air, hz) / (10.0 * std::numbers::log10e);
}

double speed_of_sound(const Air& air) { return 343.2 * std::sqrt(kelvin(air) / kReferenceKelvin); }

}  // namespace loftbeat::room
