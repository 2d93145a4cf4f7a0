#include "advise/stop_ranks.h"

#include <algorithm>
#include <array>
#include <cstdlib>
#include <optional>

#include <fmt/format.h>

namespace loftbeat::advise {
namespace {

// "III" -> 3; 0 for what is no numeral of a mixture.
int ranks_of(const std::string& pitch) {
  constexpr std::array<const char*, 7> kRankNumerals = {"II", "III", "IV",  "V",
                                                        "VI", "VII", "VIII"};
  const auto* found = std::find(kRankNumerals.begin(), kRankNumerals.end(), pitch);
  return found == kRankNumerals.end() ? 0 : static_cast<int>(found - kRankNumerals.begin()) + 2;
}

// How far a rank lies from what the stop wants, in octaves or ranks; none where it cannot serve.
std::optional<int> far_off(const organ::Stop& stop, organ::Family family, const pipes::Rank& rank) {
  if (rank.family != family) return std::nullopt;
  if (family == organ::Family::mixture)
    return std::abs(ranks_of(stop.pitch) - static_cast<int>(rank.steps.front().feet.size()));
  const auto octaves = organ::octaves_up(stop.feet, rank.feet);
  if (!octaves) return std::nullopt;
  return std::abs(*octaves);
}

const pipes::Rank* nearest_rank(const organ::Stop& stop, organ::Family family,
                                const pipes::Recipes& recipes) {
  const pipes::Rank* best = nullptr;
  int least = 0;
  for (const pipes::Rank& rank : recipes.ranks) {
    const std::optional<int> far = far_off(stop, family, rank);
    if (!far) continue;
    const bool lower = best != nullptr && *far == least && rank.feet > best->feet;
    if (best != nullptr && *far >= least && !lower) continue;
    best = &rank;
    least = *far;
  }
  return best;
}

}  // namespace

std::vector<std::string> borrow_ranks(organ::Organ& organ, const pipes::Recipes& recipes) {
  std::vector<std::string> sentences;
  for (organ::Stop& stop : organ.stops) {
    if (recipes.find(stop.rank) != nullptr) continue;
    const pipes::Rank* rank = nearest_rank(stop, stop.family, recipes);
    if (rank == nullptr) rank = nearest_rank(stop, organ::Family::mutation, recipes);
    if (rank == nullptr) continue;
    stop.rank = rank->id;
    if (stop.family == organ::Family::mixture)
      sentences.push_back(fmt::format("{} is reckoned as {}, for want of a model of its own.",
                                      organ::full_name(organ, stop), rank->label));
  }
  return sentences;
}

}  // namespace loftbeat::advise
