#pragma once

#include <string>
#include <vector>

#include <gtest/gtest.h>

#include "organ/organ.h"
#include "pipes/read.h"

namespace loftbeat::voice {

// An invented organ: Great and Swell (in a box) with couplers, a pedal.
inline const std::string kSmallOrgan = R"(name = "St Example"
[[division]]
name = "Great"
channel = 1
[[division]]
name = "Swell"
channel = 2
enclosed = true
[[division]]
name = "Pedal"
channel = 3
pedal = true
[[stop]]
name = "Open Diapason"
division = "Great"
pitch = "8"
family = "principal"
midi = { control = 20, channel = 1 }
[[stop]]
name = "Principal"
division = "Great"
pitch = "4"
family = "principal"
power = -3
[[stop]]
name = "Stopped Flute"
division = "Swell"
pitch = "8"
family = "stopped-flute"
[[stop]]
name = "Bourdon"
division = "Pedal"
pitch = "16"
family = "stopped-flute"
[[coupler]]
name = "Swell to Great"
played-on = "Great"
sounds = "Swell"
[[tremulant]]
name = "Swell Tremulant"
division = "Swell"
[[piston]]
name = "Great 1"
division = "Great"
stops = ["Great Principal 4"]
midi = { program = 1, channel = 10 }
)";

inline organ::Organ small_organ(const std::string& more = "") {
  const auto organ = organ::parse_organ(kSmallOrgan + more, "small.organ.toml");
  EXPECT_TRUE(organ.ok()) << to_string(organ.error());
  return organ.ok() ? *organ : organ::Organ{};
}

// With the stops named drawn.
inline organ::Registration drawn(const organ::Organ& organ, const std::vector<std::string>& stops) {
  plan::RegistrationPlan names;
  names.stops = stops;
  const auto registration = organ::resolve(organ, names, "test");
  EXPECT_TRUE(registration.ok()) << to_string(registration.error());
  return registration.ok() ? *registration : organ::empty_registration(organ);
}

inline const std::string kSoundFont = std::string(LOFTBEAT_SOURCE_DIR) + "/soundfonts/ranks.sf2";

inline const pipes::Recipes& recipes() {
  static const pipes::Recipes all = [] {
    const auto read = pipes::read_recipes(std::string(LOFTBEAT_SOURCE_DIR) + "/soundfonts");
    EXPECT_TRUE(read.ok()) << to_string(read.error());
    return read.ok() ? *read : pipes::Recipes{};
  }();
  return all;
}

}  // namespace loftbeat::voice
