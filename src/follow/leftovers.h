#pragma once

#include <vector>

#include "follow/assemble.h"

namespace loftbeat::follow {

// Says of every note what became of it, and of every score note that was not struck whether a
// key sounded it all the same (held) or not (missed). Fills `alignment.notes`, `missed`, `held`
// and the releases of the passes. `built` are the alignment's passes in order.
void tell_leftovers(const FollowTask& task, const std::vector<BuiltPass>& built,
                    Alignment& alignment);

// Wrong notes gone back to: an extra note close to a right one of its onset that came after it.
// Fills AlignedPass::corrections; needs `alignment.notes`.
void tell_corrections(const FollowTask& task, const std::vector<BuiltPass>& built,
                      Alignment& alignment);

// Playing outside all passes: four notes or more in a row that belong to none.
void tell_asides(const FollowTask& task, Alignment& alignment);

}  // namespace loftbeat::follow
