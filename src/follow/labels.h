#pragma once

#include <string>
#include <vector>

#include "follow/passes.h"

namespace loftbeat::follow {

// Gives the passes of a take their names. With a plan, found passes are laid along the route;
// passes beyond it go on counting. Without one, the first pass is the play-over if it is
// shorter than the tune or if the passes are the lyric's verses plus one, else verse 1.
struct Label {
  std::string name;
  plan::PassKind kind = plan::PassKind::verse;
  int route_pass = -1;
};

struct Labels {
  std::vector<Label> of_pass;  // one for each found pass
  std::string source;          // "plan", "lyrics" or "order"
};

[[nodiscard]] Labels label_passes(const PassRules& rules, const std::vector<FoundPass>& passes);

}  // namespace loftbeat::follow
