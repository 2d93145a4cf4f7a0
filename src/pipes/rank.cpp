#include "pipes/rank.h"

#include <algorithm>

namespace loftbeat::pipes {

const Rank* Recipes::find(std::string_view id) const {
  const auto found =
      std::find_if(ranks.begin(), ranks.end(), [&](const Rank& rank) { return rank.id == id; });
  return found == ranks.end() ? nullptr : &*found;
}

std::vector<std::string> Recipes::ids() const {
  std::vector<std::string> all;
  all.reserve(ranks.size());
  for (const Rank& rank : ranks) all.push_back(rank.id);
  return all;
}

}  // namespace loftbeat::pipes
