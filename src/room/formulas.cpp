#include "room/formulas.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace loftbeat::room {
namespace {

constexpr double kMostMeanCoefficient = 0.99;

double direct_ratio(double distance_m, double directivity) {
  return directivity / (4.0 * std::numbers::pi * distance_m * distance_m);
}

}  // namespace

double sabine_s(double volume_m3, double area_m2) { return kSabineConstant * volume_m3 / area_m2; }

double eyring_s(const EyringRoom& room) {
  const double a = std::min(room.mean_coefficient, kMostMeanCoefficient);
  return kSabineConstant * room.volume_m3 / (-room.surface_m2 * std::log1p(-a) + room.air_area_m2);
}

double direct_minus_power_db(double distance_m, double directivity) {
  return 10.0 * std::log10(direct_ratio(distance_m, directivity));
}

double diffuse_minus_power_db(double area_m2) { return 10.0 * std::log10(4.0 / area_m2); }

double room_constant_m2(double area_m2, double mean_coefficient) {
  return area_m2 / (1.0 - mean_coefficient);
}

double level_minus_power_db(double distance_m, double directivity, double area_m2) {
  return 10.0 * std::log10(direct_ratio(distance_m, directivity) + 4.0 / area_m2);
}

double critical_distance_m(double directivity, double area_m2) {
  return std::sqrt(directivity * area_m2 / (16.0 * std::numbers::pi));
}

}  // namespace loftbeat::room
