#include "advise/one_movement.h"

#include <algorithm>
#include <map>
#include <numeric>

namespace loftbeat::advise {
namespace {

organ::Registration everything(const organ::Organ& organ) {
  organ::Registration all = organ::empty_registration(organ);
  const auto fill = [](std::vector<std::size_t>& drawn, std::size_t count) {
    drawn.resize(count);
    std::iota(drawn.begin(), drawn.end(), std::size_t{0});
  };
  fill(all.stops, organ.stops.size());
  fill(all.couplers, organ.couplers.size());
  fill(all.tremulants, organ.tremulants.size());
  return all;
}

}  // namespace

OneMovement::OneMovement(const ConsoleMap& console) : organ_(*console.organ) {
  const organ::Organ& organ = *console.organ;
  const std::size_t count = organ.stops.size() + organ.couplers.size() + organ.tremulants.size();
  can_tell_ = count <= kMostControls;
  if (!can_tell_) return;
  std::map<organ::Side, Controls> sides;
  std::size_t bit = 0;
  for (const auto* spots : {&console.stops, &console.couplers, &console.tremulants}) {
    for (const Spot& spot : *spots) {
      if (spot.side != organ::Side::unknown) sides[spot.side].set(bit);
      ++bit;
    }
  }
  for (const auto& [side, controls_there] : sides) sides_.push_back(controls_there);
  for (const organ::Piston& piston : organ.pistons) {
    const Controls from_none = controls(after_piston(organ, empty_registration(organ), piston));
    const Controls from_all = controls(after_piston(organ, everything(organ), piston));
    pistons_.push_back({~(from_none ^ from_all), from_none});
  }
}

Controls OneMovement::controls(const organ::Registration& drawn) const {
  Controls bits;
  for (const std::size_t stop : drawn.stops) bits.set(stop);
  const std::size_t couplers = organ_.stops.size();
  for (const std::size_t coupler : drawn.couplers) bits.set(couplers + coupler);
  const std::size_t tremulants = couplers + organ_.couplers.size();
  for (const std::size_t one : drawn.tremulants) bits.set(tremulants + one);
  return bits;
}

Controls OneMovement::silent(const std::vector<bool>& sounds) const {
  Controls bits;
  for (std::size_t s = 0; s < organ_.stops.size(); ++s) {
    if (!sounds[organ_.stops[s].division]) bits.set(s);
  }
  const std::size_t tremulants = organ_.stops.size() + organ_.couplers.size();
  for (std::size_t t = 0; t < organ_.tremulants.size(); ++t) {
    if (!sounds[organ_.tremulants[t].division]) bits.set(tremulants + t);
  }
  return bits;
}

bool OneMovement::on_one_side(const Controls& moved) const {
  if (moved.count() <= 1) return true;
  return std::any_of(sides_.begin(), sides_.end(),
                     [&](const Controls& side) { return (moved & ~side).none(); });
}

bool OneMovement::may_lead(const Controls& before, const Controls& after,
                           const Controls& prepared) const {
  const Controls moved = (before ^ after) & ~prepared;
  const bool one_way = (moved & before).none() || (moved & after).none();
  if (one_way && on_one_side(moved)) return true;
  return std::any_of(pistons_.begin(), pistons_.end(), [&](const Reach& piston) {
    return ((after ^ piston.leaves) & piston.scope).none() && (moved & ~piston.scope).none();
  });
}

}  // namespace loftbeat::advise
