#pragma once

#include <cstdlib>
#include <string>
#include <utility>
#include <vector>

#include "pipes/pipes.h"

namespace loftbeat::pipes {

inline const std::string kSmallFile = R"(source = "made up"
family = "principal"

[tone]
corner = 6

[[rank]]
id = "plain-8"
label = "Plain 8"
program = 3
pitch = "8"
power = 90
power-per-octave = -2

[[rank]]
id = "break-ii"
label = "Break II"
program = 1
steps = [{ from = 24, pitches = ["2", "1 1/3"] }, { from = 60, pitches = ["4", "2 2/3"] }]
power = 88
tone = { above = 20 }
speech = { seconds = 0.05 }
)";

inline Rank plain_rank() {
  Rank rank;
  rank.id = "plain";
  rank.label = "Plain";
  rank.steps = {{0, {8}}};
  return rank;
}

// The recipes that are shipped; empty if they cannot be read, which read_test.cpp tells.
inline Recipes shipped_recipes() {
  auto recipes = read_recipes(std::string(LOFTBEAT_SOURCE_DIR) + "/soundfonts");
  return recipes.ok() ? std::move(*recipes) : Recipes{};
}

// Those that long tests try: all, or every sixth where time is dear.
inline std::vector<Rank> tried_ranks() {
  const std::size_t stride = std::getenv("LOFTBEAT_QUICK") != nullptr ? 6 : 1;
  std::vector<Rank> tried;
  const Recipes recipes = shipped_recipes();
  for (std::size_t i = 0; i < recipes.ranks.size(); i += stride) tried.push_back(recipes.ranks[i]);
  return tried;
}

}  // namespace loftbeat::pipes
