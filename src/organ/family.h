#pragma once

#include <array>
#include <string_view>
#include <utility>

namespace loftbeat::organ {

// How pipes are made, as far as the ear is concerned. `voice` is the choir that stands for the
// singing: a rank can be one, a stop of an organ not.
enum class Family {
  principal,
  open_flute,
  stopped_flute,
  string,
  celeste,
  mutation,
  mixture,
  reed,
  voice,
};

// As files write them, the voice last.
inline constexpr std::array<std::pair<std::string_view, Family>, 9> kFamilyWords = {
    {{"principal", Family::principal},
     {"open-flute", Family::open_flute},
     {"stopped-flute", Family::stopped_flute},
     {"string", Family::string},
     {"celeste", Family::celeste},
     {"mutation", Family::mutation},
     {"mixture", Family::mixture},
     {"reed", Family::reed},
     {"voice", Family::voice}}};

}  // namespace loftbeat::organ
