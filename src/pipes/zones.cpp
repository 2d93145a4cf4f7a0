#include "pipes/zones.h"

#include <algorithm>

namespace loftbeat::pipes {
namespace {

std::vector<Zone> all_zones() {
  std::vector<Zone> zones = {{24, 29, 27}, {30, 35, 33}};
  for (int key = 36; key < 96; key += 3) zones.push_back({key, key + 2, key + 1});
  zones.push_back({96, 96, 96});
  zones.push_back({97, 102, 99});
  zones.push_back({103, 108, 105});
  return zones;
}

}  // namespace

const std::vector<Zone>& zones() {
  static const std::vector<Zone> all = all_zones();
  return all;
}

const Zone& zone_of(int key) {
  return *std::find_if(zones().begin(), zones().end(),
                       [key](const Zone& zone) { return key <= zone.highest; });
}

}  // namespace loftbeat::pipes
