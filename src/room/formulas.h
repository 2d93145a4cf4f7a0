#pragma once

namespace loftbeat::room {

// The textbook formulas of a room, each for one frequency. Areas in m2, volumes in m3, times in
// seconds, levels in dB. The diffuse field is taken as even throughout the room.

// 24 ln(10) / c at 343 m/s, s/m.
inline constexpr double kSabineConstant = 0.161;

// Reverberation time by Sabine, from the whole absorption area, air (4 m V) included.
// Example: 640 m3 and 22.4 m2 -> 4.60 s. No absorption gives infinity.
[[nodiscard]] double sabine_s(double volume_m3, double area_m2);

struct EyringRoom {
  double volume_m3 = 0;
  double surface_m2 = 0;        // of all boundaries
  double mean_coefficient = 0;  // of the surfaces, 0 to 1; capped at 0.99
  double air_area_m2 = 0;       // 4 m V
};
// Reverberation time by Eyring. Never longer than Sabine's.
// Example: 360 m3, 378 m2, 0.30 -> 0.43 s.
[[nodiscard]] double eyring_s(const EyringRoom& room);

// Sound pressure level less sound power level. `directivity` is Q, 1 = the same in all directions.
[[nodiscard]] double direct_minus_power_db(double distance_m, double directivity);
// The diffuse field, 10 lg(4/A): the power absorbed everywhere equals the power given.
// Example: A = 58.9 m2 -> -11.68 dB.
[[nodiscard]] double diffuse_minus_power_db(double area_m2);
// Room constant R = A / (1 - a), for those who count the direct sound apart from a diffuse field
// that begins after the first reflection.
[[nodiscard]] double room_constant_m2(double area_m2, double mean_coefficient);
// Direct and diffuse together. Take A or R as the second figure, as the book does that is followed;
// Loftbeat takes A, air included.
[[nodiscard]] double level_minus_power_db(double distance_m, double directivity, double area_m2);

// Where direct and diffuse sound are equally strong, m: sqrt(Q A / 16 pi).
// Example: Q 1, A 58.9 m2 -> 1.08 m.
[[nodiscard]] double critical_distance_m(double directivity, double area_m2);

}  // namespace loftbeat::room
