#include "take/smf_take.h"

#include <algorithm>
#include <exception>
#include <utility>

#include "music/smf_file.h"
#include "take/smf_event.h"

namespace loftbeat::take {
namespace {

using music::SmfClock;
using music::SmfFile;

// No practice lasts longer; what claims to is a damaged delta time.
constexpr Nanoseconds kLongestTake = std::chrono::hours(24);

struct TimedEvent {
  std::int64_t ticks = 0;
  Event event;
};

std::vector<TimedEvent> events_of_tracks(const SmfFile& file) {
  std::vector<TimedEvent> events;
  for (const music::SmfTrack& track : file.tracks) {
    TrackEvents reader;
    for (const music::SmfEvent& event : track.events) {
      if (auto read = reader.read(event)) events.push_back({event.ticks, std::move(*read)});
    }
  }
  std::stable_sort(events.begin(), events.end(),
                   [](const TimedEvent& a, const TimedEvent& b) { return a.ticks < b.ticks; });
  return events;
}

// The coarsest tick among those at which something happened.
Nanoseconds coarsest_tick(const std::vector<TimedEvent>& events, const SmfClock& clock) {
  Nanoseconds step{0};
  for (const TimedEvent& timed : events) {
    step = std::max(step, clock.instant(timed.ticks + 1) - clock.instant(timed.ticks));
  }
  return step;
}

Take take_of(SmfFile file, const std::string& name) {
  const SmfClock clock(file);
  std::vector<TimedEvent> timed = events_of_tracks(file);
  Take take;
  take.notices = std::move(file.notices);
  const auto late = std::partition_point(timed.begin(), timed.end(), [&](const TimedEvent& t) {
    return clock.instant(t.ticks) <= Instant(kLongestTake);
  });
  if (late != timed.end()) {
    take.notices.push_back({std::to_string(timed.end() - late) +
                                " events more than 24 hours after the start were left out.",
                            name});
    timed.erase(late, timed.end());
  }
  take.stamp_step = coarsest_tick(timed, clock);
  take.events.reserve(timed.size());
  for (TimedEvent& t : timed) {
    t.event.at = clock.instant(t.ticks);
    take.events.push_back(std::move(t.event));
  }
  return take;
}

}  // namespace

Result<Take> parse_take(std::string_view bytes, const std::string& name) {
  try {
    auto file = music::parse_smf(bytes, name);
    if (!file) return file.error();
    return take_of(std::move(file).value(), name);
  } catch (const std::exception&) {  // out of memory; nothing else is thrown here
    return Error{ErrorKind::too_large, "is too large to be held in memory.", name};
  }
}

Result<Take> read_take(const std::string& path) {
  auto bytes = read_file(path);
  if (!bytes) return bytes.error();
  return parse_take(*bytes, path);
}

}  // namespace loftbeat::take
