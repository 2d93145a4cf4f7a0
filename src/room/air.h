#pragma once

namespace loftbeat::room {

struct Air {
  double temperature_c = 20;
  double humidity_percent = 50;  // relative
  double pressure_kpa = 101.325;
};

// What the air takes from a pure tone on its way, dB per metre (ISO 9613-1:1993). Valid from
// -20 to 50 C, 10 to 100 % and 50 Hz to 10 kHz within the standard's own 10 %; used here beyond.
// Example: 20 C, 50 %, 4 kHz (3981 Hz) -> 0.0294 dB/m.
[[nodiscard]] double air_attenuation_db_per_m(const Air& air, double hz);

// The same as an energy constant m, 1/m: a room of V m3 absorbs 4 m V m2 by its air.
[[nodiscard]] double air_energy_constant_per_m(const Air& air, double hz);

// Speed of sound, m/s, as ISO 9613-1 has it: 343.2 at 20 C.
[[nodiscard]] double speed_of_sound(const Air& air);

}  // namespace loftbeat::room
