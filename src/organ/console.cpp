#include "organ/console.h"

#include <algorithm>
#include <cmath>

#include "organ/console_read.h"

namespace loftbeat::organ {
namespace {

void set_member(std::vector<std::size_t>& drawn, std::size_t index, double value) {
  const auto at = std::lower_bound(drawn.begin(), drawn.end(), index);
  const bool there = at != drawn.end() && *at == index;
  if (value > 0 && !there) drawn.insert(at, index);
  if (value <= 0 && there) drawn.erase(at);
}

}  // namespace

std::vector<ConsoleMove> ConsoleReader::feed(const take::Event& event) {
  ConsoleMessage message{event, -1};
  if (event.kind == take::EventKind::control && event.channel < nrpn_.size()) {
    Parameter& parameter = nrpn_[event.channel];
    constexpr int kNrpnMsb = 99, kNrpnLsb = 98, kRpnMsb = 101, kRpnLsb = 100, kDataEntry = 6;
    if (event.data1 == kNrpnMsb) parameter.msb = event.data2;
    if (event.data1 == kNrpnLsb) parameter.lsb = event.data2;
    if (event.data1 == kRpnMsb || event.data1 == kRpnLsb) parameter = {};
    const bool known = parameter.msb >= 0 && parameter.lsb >= 0;
    if (event.data1 == kDataEntry && known) message.nrpn = parameter.msb * 128 + parameter.lsb;
  }
  std::vector<ConsoleMove> moves;
  const auto look = [&](const auto& controls, ConsoleMove::What what) {
    for (std::size_t i = 0; i < controls.size(); ++i) {
      if (const auto value = heard(controls[i].midi, message)) moves.push_back({what, i, *value});
    }
  };
  look(organ_.stops, ConsoleMove::What::stop);
  look(organ_.couplers, ConsoleMove::What::coupler);
  look(organ_.tremulants, ConsoleMove::What::tremulant);
  look(organ_.pistons, ConsoleMove::What::piston);
  // A piston that is let go does nothing.
  std::erase_if(moves, [](const ConsoleMove& move) {
    return move.what == ConsoleMove::What::piston && move.value <= 0;
  });
  for (std::size_t d = 0; d < organ_.divisions.size(); ++d) {
    const Division& division = organ_.divisions[d];
    if (event.kind == take::EventKind::control && division.box &&
        division.channel == event.channel + 1 && division.box->control == event.data1) {
      moves.push_back({ConsoleMove::What::swell, d, event.data2 / 127.0});
    }
  }
  if (const auto position = crescendo_position(event)) {
    if (*position != crescendo_) moves.push_back({ConsoleMove::What::crescendo, 0, *position});
    crescendo_ = *position;
  }
  return moves;
}

// The pedal sends many values; what counts is which position it stands at.
std::optional<double> ConsoleReader::crescendo_position(const take::Event& event) const {
  const std::optional<Crescendo>& pedal = organ_.crescendo;
  if (!pedal || event.kind != take::EventKind::control || pedal->channel != event.channel + 1 ||
      pedal->control != event.data1)
    return std::nullopt;
  return std::round(event.data2 / 127.0 * pedal->last());
}

Registration moved(const Organ& organ, Registration before, const ConsoleMove& move) {
  switch (move.what) {
    case ConsoleMove::What::stop: set_member(before.stops, move.index, move.value); break;
    case ConsoleMove::What::coupler: set_member(before.couplers, move.index, move.value); break;
    case ConsoleMove::What::tremulant: set_member(before.tremulants, move.index, move.value); break;
    case ConsoleMove::What::swell: before.swell[move.index] = move.value; break;
    case ConsoleMove::What::crescendo:
      before.crescendo = static_cast<int>(std::lround(move.value));
      break;
    case ConsoleMove::What::piston:
      return after_piston(organ, std::move(before), organ.pistons[move.index]);
  }
  return before;
}

std::vector<ConsoleMove> moves_between(const Registration& before, const Registration& after) {
  using What = ConsoleMove::What;
  std::vector<ConsoleMove> moves;
  const auto missing = [&](What what, const std::vector<std::size_t>& in,
                           const std::vector<std::size_t>& from, double value) {
    for (const std::size_t index : in) {
      if (!std::binary_search(from.begin(), from.end(), index))
        moves.push_back({what, index, value});
    }
  };
  missing(What::stop, before.stops, after.stops, 0);
  missing(What::coupler, before.couplers, after.couplers, 0);
  missing(What::tremulant, before.tremulants, after.tremulants, 0);
  missing(What::stop, after.stops, before.stops, 1);
  missing(What::coupler, after.couplers, before.couplers, 1);
  missing(What::tremulant, after.tremulants, before.tremulants, 1);
  for (std::size_t d = 0; d < after.swell.size() && d < before.swell.size(); ++d) {
    if (after.swell[d] != before.swell[d]) moves.push_back({What::swell, d, after.swell[d]});
  }
  if (after.crescendo != before.crescendo)
    moves.push_back({What::crescendo, 0, static_cast<double>(after.crescendo)});
  return moves;
}

}  // namespace loftbeat::organ
