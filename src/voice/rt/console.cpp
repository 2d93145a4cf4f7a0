#include "voice/rt/console.h"

#include <utility>

namespace loftbeat::voice::rt {
namespace {

std::size_t at(int index) { return static_cast<std::size_t>(index); }

template <typename List>
bool has(const List& list, int index) {
  return index >= 0 && at(index) < list.size();
}

}  // namespace

Console::Console(ConsoleSpec spec, PipeSink& sink) : spec_(std::move(spec)), sink_(sink) {
  if (spec_.divisions.size() > kMostDivisions) spec_.divisions.resize(kMostDivisions);
  if (spec_.stops.size() > kMostStops) spec_.stops.resize(kMostStops);
  if (spec_.couplers.size() > kMostCouplers) spec_.couplers.resize(kMostCouplers);
  stops_of_.resize(spec_.divisions.size());
  for (std::size_t i = 0; i < spec_.stops.size(); ++i) {
    const int division = spec_.stops[i].division;
    if (has(stops_of_, division)) stops_of_[at(division)].push_back(static_cast<int>(i));
  }
}

bool Console::has_key(int division, int key) const {
  if (!has(spec_.divisions, division)) return false;
  const ConsoleSpec::Division& compass = spec_.divisions[at(division)];
  return key >= 0 && key < kKeys && key >= compass.lowest_key && key <= compass.highest_key;
}

void Console::begin(int stop, int key) {
  ++speaking_;
  sink_.speak(stop, key);
}

void Console::end(int stop, int key) {
  --speaking_;
  sink_.hush(stop, key);
}

void Console::hold(int division, int key) {
  if (!has_key(division, key)) return;
  if (held_[at(division)][at(key)]++ > 0) return;
  for (const int stop : stops_of_[at(division)])
    if (drawn_[at(stop)]) begin(stop, key);
}

void Console::let_go(int division, int key) {
  if (!has_key(division, key)) return;
  if (--held_[at(division)][at(key)] > 0) return;
  for (const int stop : stops_of_[at(division)])
    if (drawn_[at(stop)]) end(stop, key);
}

void Console::couple(const ConsoleSpec::Coupler& coupler, int key) {
  hold(coupler.pipes, key + coupler.semitones);
}

void Console::uncouple(const ConsoleSpec::Coupler& coupler, int key) {
  let_go(coupler.pipes, key + coupler.semitones);
}

void Console::key_down(int division, int key) {
  if (!has_key(division, key)) return;
  std::uint16_t& count = pressed_[at(division)][at(key)];
  if (count == 60000) return;
  if (count++ > 0) return;
  hold(division, key);
  for (std::size_t i = 0; i < spec_.couplers.size(); ++i)
    if (coupled_[i] && spec_.couplers[i].keyboard == division) couple(spec_.couplers[i], key);
}

void Console::key_up(int division, int key) {
  if (!has_key(division, key)) return;
  std::uint16_t& count = pressed_[at(division)][at(key)];
  if (count == 0) return;
  if (--count > 0) return;
  let_go(division, key);
  for (std::size_t i = 0; i < spec_.couplers.size(); ++i)
    if (coupled_[i] && spec_.couplers[i].keyboard == division) uncouple(spec_.couplers[i], key);
}

void Console::draw_stop(int stop) {
  if (!has(spec_.stops, stop) || drawn_[at(stop)]) return;
  drawn_[at(stop)] = true;
  const int division = spec_.stops[at(stop)].division;
  if (!has(spec_.divisions, division)) return;
  for (int key = 0; key < kKeys; ++key)
    if (held_[at(division)][at(key)] > 0) begin(stop, key);
}

void Console::push_in_stop(int stop) {
  if (!has(spec_.stops, stop) || !drawn_[at(stop)]) return;
  drawn_[at(stop)] = false;
  const int division = spec_.stops[at(stop)].division;
  if (!has(spec_.divisions, division)) return;
  for (int key = 0; key < kKeys; ++key)
    if (held_[at(division)][at(key)] > 0) end(stop, key);
}

void Console::draw_coupler(int coupler) {
  if (!has(spec_.couplers, coupler) || coupled_[at(coupler)]) return;
  coupled_[at(coupler)] = true;
  const ConsoleSpec::Coupler& joined = spec_.couplers[at(coupler)];
  for (int key = 0; has(spec_.divisions, joined.keyboard) && key < kKeys; ++key)
    if (pressed_[at(joined.keyboard)][at(key)] > 0) couple(joined, key);
}

void Console::push_in_coupler(int coupler) {
  if (!has(spec_.couplers, coupler) || !coupled_[at(coupler)]) return;
  coupled_[at(coupler)] = false;
  const ConsoleSpec::Coupler& joined = spec_.couplers[at(coupler)];
  for (int key = 0; has(spec_.divisions, joined.keyboard) && key < kKeys; ++key)
    if (pressed_[at(joined.keyboard)][at(key)] > 0) uncouple(joined, key);
}

void Console::release_keys() {
  for (std::size_t division = 0; division < spec_.divisions.size(); ++division) {
    for (int key = 0; key < kKeys; ++key) {
      std::uint16_t& count = pressed_[division][at(key)];
      if (count == 0) continue;
      count = 1;
      key_up(static_cast<int>(division), key);
    }
  }
}

void Console::clear_stops() {
  for (std::size_t stop = 0; stop < spec_.stops.size(); ++stop)
    push_in_stop(static_cast<int>(stop));
  for (std::size_t i = 0; i < spec_.couplers.size(); ++i) push_in_coupler(static_cast<int>(i));
}

}  // namespace loftbeat::voice::rt
