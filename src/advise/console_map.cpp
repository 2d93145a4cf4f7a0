#include "advise/console_map.h"

#include <algorithm>
#include <cmath>
#include <map>

namespace loftbeat::advise {
namespace {

using organ::Location;
using organ::Side;

// Of each row of tabs the last place.
using TabRows = std::map<int, int>;

template <typename Control>
void measure_tabs(const std::vector<Control>& controls, TabRows& rows) {
  for (const Control& control : controls) {
    const Location& at = control.location;
    if (at.side == Side::above) rows[at.row] = std::max(rows[at.row], at.place);
  }
}

Spot spot_of(const Location& at, const TabRows& tabs) {
  Spot spot;
  spot.side = at.side;
  spot.row = at.row > 0 ? at.row : kUnknownRow;
  spot.place = at.place > 0 ? at.place : kUnknownPlace;
  spot.known = at.side != Side::unknown && at.row > 0 && at.place > 0;
  if (at.side == Side::above) {
    const auto row = tabs.find(at.row);
    const int last = row == tabs.end() ? spot.place : std::max(row->second, spot.place);
    spot.row = at.row > 0 ? at.row : 1;
    spot.x_cm = (spot.place - (last + 1) / 2.0) * kTabsApartCm;
    spot.y_cm = kTabRowCm + (spot.row - 1) * kTabRowsApartCm;
    return spot;
  }
  const double out = kJambCm + (spot.place - 1) * kKnobsApartCm;
  spot.x_cm = at.side == Side::left ? -out : out;
  spot.y_cm = kJambRowCm + (spot.row - 1) * kJambRowsApartCm;
  return spot;
}

template <typename Control>
std::vector<Spot> spots_of(const std::vector<Control>& controls, const TabRows& tabs) {
  std::vector<Spot> spots;
  spots.reserve(controls.size());
  for (const Control& control : controls) spots.push_back(spot_of(control.location, tabs));
  return spots;
}

}  // namespace

double reach_cm(const Spot& spot) { return std::hypot(std::abs(spot.x_cm) - kHandCm, spot.y_cm); }

double apart_cm(const Spot& a, const Spot& b) {
  return std::hypot(a.x_cm - b.x_cm, a.y_cm - b.y_cm);
}

double from_desk_cm(const Spot& spot) { return std::hypot(spot.x_cm, spot.y_cm - kDeskCm); }

ConsoleMap lay_out(const organ::Organ& organ) {
  TabRows tabs;
  measure_tabs(organ.stops, tabs);
  measure_tabs(organ.couplers, tabs);
  measure_tabs(organ.tremulants, tabs);
  return {&organ, spots_of(organ.stops, tabs), spots_of(organ.couplers, tabs),
          spots_of(organ.tremulants, tabs)};
}

}  // namespace loftbeat::advise
