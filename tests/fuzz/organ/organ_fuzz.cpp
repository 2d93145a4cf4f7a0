// Whatever the bytes are: one error or an organ whose every index lies within it, whose every stop
// is found by its full name, and which takes any message and piston without harm.

#include <cstdint>
#include <cstdlib>
#include <string_view>

#include "organ/organ.h"

namespace loftbeat::organ {
namespace {

void hold(bool law) {
  if (!law) std::abort();
}

void check_indexes(const Organ& organ) {
  hold(!organ.divisions.empty() && !organ.stops.empty());
  for (const Stop& stop : organ.stops) hold(stop.division < organ.divisions.size());
  for (const Coupler& coupler : organ.couplers) {
    hold(coupler.played_on < organ.divisions.size() && coupler.sounds < organ.divisions.size());
  }
  for (const Tremulant& tremulant : organ.tremulants) {
    hold(tremulant.division < organ.divisions.size());
  }
  for (const Piston& piston : organ.pistons) {
    for (const std::size_t stop : piston.stops) hold(stop < organ.stops.size());
    for (const std::size_t coupler : piston.couplers) hold(coupler < organ.couplers.size());
  }
  if (!organ.split) return;
  hold(organ.split->below < organ.divisions.size() && organ.split->above < organ.divisions.size());
}

void play(const Organ& organ) {
  Registration drawn = empty_registration(organ);
  ConsoleReader reader(organ);
  for (int kind = 0; kind < 7; ++kind) {
    for (int number = 0; number < 128; number += 7) {
      take::Event event;
      event.kind = static_cast<take::EventKind>(kind);
      event.channel = static_cast<std::uint8_t>(number % 16);
      event.data1 = static_cast<std::uint8_t>(number);
      event.data2 = 127;
      for (const ConsoleMove& move : reader.feed(event)) drawn = moved(organ, drawn, move);
    }
  }
  for (const Piston& piston : organ.pistons) drawn = after_piston(organ, drawn, piston);
  for (const Speaking& one : coupled(organ, drawn, {0, organ.divisions[0].lowest_key})) {
    hold(organ.divisions[one.division].has_key(one.key));
  }
}

void check(std::string_view text) {
  const auto organ = parse_organ(text, "x.organ.toml");
  if (!organ) return hold(!organ.error().message.empty());
  check_indexes(*organ);
  for (std::size_t s = 0; s < organ->stops.size() && s < 50; ++s) {
    const auto found = find_stop(*organ, full_name(*organ, organ->stops[s]));
    hold(found.ok() && *found == s);
  }
  play(*organ);
}

}  // namespace
}  // namespace loftbeat::organ

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  loftbeat::organ::check({reinterpret_cast<const char*>(data), size});
  return 0;
}
