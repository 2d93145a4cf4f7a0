#pragma once

#include <array>
#include <cstdint>

namespace loftbeat::live::rt {

// Which division a key of a channel plays, made beforehand so that the audio thread only looks up.
struct KeyTable {
  static constexpr std::int8_t kNone = -1;
  std::array<std::array<std::int8_t, 128>, 16> division{};  // kNone: nothing speaks
  KeyTable() {
    for (auto& channel : division) channel.fill(kNone);
  }
};

}  // namespace loftbeat::live::rt
