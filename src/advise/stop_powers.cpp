#include "advise/stop_powers.h"

#include <fmt/format.h>

#include "base/nearest.h"

namespace loftbeat::advise {
namespace {

Error no_fit(const organ::Organ& organ, std::string message, std::string hint) {
  return {ErrorKind::no_fit, std::move(message), organ.file, 0, 0, std::move(hint)};
}

}  // namespace

void add(Power& sum, const Power& more, double times) {
  for (std::size_t i = 0; i < sum.size(); ++i) sum[i] += times * more[i];
}

hearing::BandLevels levels_of(const Power& power) {
  hearing::BandLevels levels{};
  for (std::size_t i = 0; i < levels.size(); ++i) levels[i] = hearing::level_from_power(power[i]);
  return levels;
}

Result<StopPowers> StopPowers::make(const organ::Organ& organ, const pipes::Recipes& recipes,
                                    const pipes::RankPowers& powers) {
  StopPowers made;
  made.powers_.resize(organ.stops.size() * kKeys);
  for (std::size_t s = 0; s < organ.stops.size(); ++s) {
    const organ::Stop& stop = organ.stops[s];
    const pipes::Rank* rank = recipes.find(stop.rank);
    const std::string name = organ::full_name(organ, stop);
    if (rank == nullptr) {
      return no_fit(organ,
                    fmt::format("the stop \"{}\" speaks the rank \"{}\", which no pipe recipe has.",
                                name, stop.rank),
                    nearest_hint(stop.rank, recipes.ids()));
    }
    const auto octaves = organ::octaves_up(stop.feet, rank->feet);
    if (!octaves) {
      return no_fit(organ,
                    fmt::format("the stop \"{}\" cannot speak the rank \"{}\": they are not whole "
                                "octaves apart.",
                                name, stop.rank),
                    "Choose a rank of the same foot pitch.");
    }
    const auto index = static_cast<std::size_t>(rank - recipes.ranks.data());
    const double gain = hearing::power_from_level(stop.power_db + organ.power_db);
    for (int key = 0; key < static_cast<int>(kKeys); ++key) {
      Power& power = made.powers_[s * kKeys + static_cast<std::size_t>(key)];
      add(power, powers.at(index, key + 12 * *octaves), gain);
    }
  }
  return made;
}

}  // namespace loftbeat::advise
