#include "voice/performance.h"

#include <algorithm>
#include <map>
#include <utility>

namespace loftbeat::voice {
namespace {

using rt::Act;
using rt::Event;

// What comes first at one frame: keys go up, stops move, keys go down.
int order(Act act) {
  if (act == Act::key_up || act == Act::release_keys) return 0;
  return act == Act::key_down ? 2 : 1;
}

bool earlier(const Event& a, const Event& b) {
  return a.frame != b.frame ? a.frame < b.frame : order(a.act) < order(b.act);
}

// Calls `act` for what is in one sorted list and not in the other.
template <typename Do>
void each_missing(const std::vector<std::size_t>& in, const std::vector<std::size_t>& from,
                  Do act) {
  for (const std::size_t index : in)
    if (!std::binary_search(from.begin(), from.end(), index)) act(index);
}

// The state of a console, put together from events.
struct Chased {
  std::map<std::pair<int, int>, int> keys;  // division and key -> times pressed
  std::map<int, bool> stops;
  std::map<int, bool> couplers;
  std::map<int, bool> tremulants;
  std::map<int, float> swell;

  void take(const Event& event) {
    switch (event.act) {
      case Act::key_down: ++keys[{event.division, event.index}]; break;
      case Act::key_up: --keys[{event.division, event.index}]; break;
      case Act::draw_stop: stops[event.index] = true; break;
      case Act::push_in_stop: stops[event.index] = false; break;
      case Act::draw_coupler: couplers[event.index] = true; break;
      case Act::push_in_coupler: couplers[event.index] = false; break;
      case Act::swell: swell[event.division] = event.value; break;
      case Act::tremulant_on: tremulants[event.index] = true; break;
      case Act::tremulant_off: tremulants[event.index] = false; break;
      case Act::release_keys:
      case Act::silence_everything: keys.clear(); break;
      case Act::clear_stops:
        stops.clear();
        couplers.clear();
        tremulants.clear();
        break;
      case Act::volume: break;
    }
  }

  void tell(std::vector<Event>& events) const {
    const auto drawn = [&](const std::map<int, bool>& list, Act act) {
      for (const auto& [index, on] : list)
        if (on) events.push_back({0, act, 0, static_cast<std::uint16_t>(index), 0});
    };
    drawn(stops, Act::draw_stop);
    drawn(couplers, Act::draw_coupler);
    drawn(tremulants, Act::tremulant_on);
    for (const auto& [division, position] : swell)
      events.push_back({0, Act::swell, static_cast<std::uint8_t>(division), 0, position});
    for (const auto& [place, count] : keys)
      for (int i = 0; i < count; ++i)
        events.push_back({0, Act::key_down, static_cast<std::uint8_t>(place.first),
                          static_cast<std::uint16_t>(place.second), 0});
  }
};

}  // namespace

void PerformanceBuilder::hold(const HeldKey& key) {
  if (key.division < 0 || static_cast<std::size_t>(key.division) >= organ_.divisions.size()) return;
  if (!organ_.divisions[static_cast<std::size_t>(key.division)].has_key(key.key)) return;
  if (key.off <= key.on) return;
  const auto division = static_cast<std::uint8_t>(key.division);
  const auto index = static_cast<std::uint16_t>(key.key);
  events_.push_back({key.on, Act::key_down, division, index, 0});
  events_.push_back({key.off, Act::key_up, division, index, 0});
}

void PerformanceBuilder::move(std::int64_t frame, Act act, std::size_t index) {
  events_.push_back({frame, act, 0, static_cast<std::uint16_t>(index), 0});
}

void PerformanceBuilder::change(std::int64_t frame, const organ::Registration& before,
                                const organ::Registration& after) {
  const organ::Registration from = organ::with_crescendo(organ_, before);
  const organ::Registration to = organ::with_crescendo(organ_, after);
  const auto with = [&](Act act) {
    return [this, frame, act](std::size_t i) { move(frame, act, i); };
  };
  each_missing(from.stops, to.stops, with(Act::push_in_stop));
  each_missing(from.couplers, to.couplers, with(Act::push_in_coupler));
  each_missing(from.tremulants, to.tremulants, with(Act::tremulant_off));
  each_missing(to.stops, from.stops, with(Act::draw_stop));
  each_missing(to.couplers, from.couplers, with(Act::draw_coupler));
  each_missing(to.tremulants, from.tremulants, with(Act::tremulant_on));
  for (std::size_t d = 0; d < to.swell.size(); ++d) {
    const double was = d < from.swell.size() ? from.swell[d] : 1;
    if (to.swell[d] != was)
      events_.push_back(
          {frame, Act::swell, static_cast<std::uint8_t>(d), 0, static_cast<float>(to.swell[d])});
  }
}

Performance PerformanceBuilder::finish(std::int64_t frames) {
  std::stable_sort(events_.begin(), events_.end(), earlier);
  Performance performance;
  performance.events = std::move(events_);
  performance.frames = frames;
  if (!performance.events.empty())
    performance.frames = std::max(frames, performance.events.back().frame);
  return performance;
}

Performance from_frame(const Performance& performance, std::int64_t frame) {
  if (frame <= 0) return performance;
  Performance later;
  later.notices = performance.notices;
  later.frames = std::max<std::int64_t>(0, performance.frames - frame);
  Chased state;
  auto event = performance.events.begin();
  // What goes up at this very frame is not struck any more.
  const auto past = [&](const Event& one) {
    return one.frame < frame || (one.frame == frame && order(one.act) == 0);
  };
  for (; event != performance.events.end() && past(*event); ++event) state.take(*event);
  state.tell(later.events);
  for (; event != performance.events.end(); ++event) {
    later.events.push_back(*event);
    later.events.back().frame -= frame;
  }
  for (Mark mark : performance.marks) {
    if (mark.frame < frame) continue;
    mark.frame -= frame;
    later.marks.push_back(std::move(mark));
  }
  return later;
}

Performance cut_at(const Performance& performance, std::int64_t frames) {
  Performance shorter = performance;
  const auto beyond = [&](const auto& one) { return one.frame >= frames; };
  std::erase_if(shorter.events, beyond);
  std::erase_if(shorter.marks, beyond);
  shorter.events.push_back({frames, Act::release_keys, 0, 0, 0});
  shorter.frames = frames;
  return shorter;
}

Performance at_speed(Performance performance, double times) {
  const auto scaled = [&](std::int64_t frame) {
    return static_cast<std::int64_t>(static_cast<double>(frame) / times + 0.5);
  };
  for (rt::Event& event : performance.events) event.frame = scaled(event.frame);
  for (Mark& mark : performance.marks) mark.frame = scaled(mark.frame);
  performance.frames = scaled(performance.frames);
  return performance;
}

}  // namespace loftbeat::voice
