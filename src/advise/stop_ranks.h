#pragma once

#include <string>
#include <vector>

#include "organ/organ.h"
#include "pipes/rank.h"

namespace loftbeat::advise {

// Gives each stop whose rank no recipe has the nearest one of its family: the fewest octaves away,
// or for a mixture with the nearest number of ranks; of equals the lower, or the smaller, one.
// Where the family has none (a principal of 1 3/5'), the mutations' counts. Stops for which even
// that fails keep their rank, and StopPowers::make tells them. Returns a sentence for each mixture
// that speaks with another number of ranks than its own; octaves change nothing that counts.
// Example: string-16 speaks string-8 an octave lower.
[[nodiscard]] std::vector<std::string> borrow_ranks(organ::Organ& organ,
                                                    const pipes::Recipes& recipes);

}  // namespace loftbeat::advise
