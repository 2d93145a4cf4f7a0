#pragma once

#include <gtest/gtest.h>

#include <string>

#include "room/room.h"

namespace loftbeat::room {

// An invented village church.
inline const std::string kVillageChurch = R"(name = "St Example"
volume = 3600
[[surface]]
name = "walls"
material = "plaster-on-brick"
area = 1140
[[surface]]
material = "window-glass"
area = 60
[[surface]]
material = "limestone"
area = 160
[[pews]]
area = 200
seats = 300
[people]
expected = 150
)";

inline Church village_church(const std::string& more = "") {
  const auto church = parse_church(kVillageChurch + more, "village.church.toml");
  EXPECT_TRUE(church.ok()) << to_string(church.error());
  return church.ok() ? *church : Church{};
}

}  // namespace loftbeat::room
