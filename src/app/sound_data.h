#pragma once

#include <optional>
#include <string>
#include <vector>

#include "app/sound_order.h"
#include "base/result.h"
#include "organ/organ.h"
#include "pipes/rank.h"
#include "plan/plan.h"
#include "room/church.h"

namespace loftbeat::app {

// Where the recipes and the SoundFont made from them lie.
struct RanksPlace {
  std::string recipes;    // folder
  std::string soundfont;  // file
};
// Looks beside the program, from its folder upwards: `share/loftbeat/soundfonts` where it is
// installed, `soundfonts` where it has been built. `soundfont` replaces the file if it is not
// empty. Errors: none found.
[[nodiscard]] Result<RanksPlace> find_ranks(const std::string& soundfont);

// The files that an order speaks of, read.
struct SoundData {
  std::optional<plan::Plan> plan;
  organ::Organ organ;
  std::vector<std::string> assumed;    // of an organ typed as a stop list
  std::optional<room::Church> church;  // none: dry
  int people = 0;
  pipes::Recipes recipes;
  std::string soundfont;
};
// Errors: what readers say; no organ named anywhere.
[[nodiscard]] Result<SoundData> read_sound_data(const SoundOrder& order);
// The same of a plan that has been read, or of none.
[[nodiscard]] Result<SoundData> sound_data_of(const SoundOrder& order,
                                              std::optional<plan::Plan> read);

}  // namespace loftbeat::app
