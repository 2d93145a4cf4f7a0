// Whatever the bytes are: one error or a church that rings for a finite time in every band, and in
// which organ and singing arrive at finite levels.

#include <cmath>
#include <cstdint>
#include <cstdlib>
#include <string_view>

#include "room/room.h"

namespace loftbeat::room {
namespace {

void hold(bool law) {
  if (!law) std::abort();
}

void check(std::string_view text) {
  const auto church = parse_church(text, "x.church.toml");
  if (!church) return hold(!church.error().message.empty());
  BandLevels power;
  power.fill(90);
  for (const int people : {0, 1, 300, 10000}) {
    const Acoustics state = acoustics(*church, people);
    for (const double s : state.sabine_s) hold(std::isfinite(s) && s > 0);
    for (const double s : state.eyring_s) hold(std::isfinite(s) && s > 0);
    for (const Place place : {Place::people, Place::player}) {
      for (const double level : heard_organ(*church, state, place, power))
        hold(std::isfinite(level));
      if (people == 0) continue;
      for (const double level : heard_singing(*church, state, place, people)) {
        hold(std::isfinite(level));
      }
    }
  }
}

}  // namespace
}  // namespace loftbeat::room

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  loftbeat::room::check({reinterpret_cast<const char*>(data), size});
  return 0;
}
