#include <algorithm>

#include "music/smf_file.h"
#include "take/smf_event.h"
#include "take/smf_take.h"

namespace loftbeat::take {
namespace {

// 500000 microseconds a quarter over 25000 ticks: one tick is 20 microseconds.
constexpr int kFileTicksPerQuarter = 25'000;
constexpr std::int64_t kTickNanoseconds = 20'000;

std::int64_t ticks_of(Instant at) {
  const std::int64_t ns = std::max<std::int64_t>(at.time_since_epoch().count(), 0);
  return ns / kTickNanoseconds + (ns % kTickNanoseconds >= kTickNanoseconds / 2 ? 1 : 0);
}

}  // namespace

std::string format_take(const Take& take) {
  music::SmfFile file;
  file.format = 0;
  file.ticks_per_quarter = kFileTicksPerQuarter;
  music::SmfTrack track;
  track.events.reserve(take.events.size() + 1);
  track.events.push_back({0, 0xFF, 0x51, std::string("\x07\xA1\x20", 3)});
  std::uint8_t port = 0;
  for (const Event& event : take.events) {
    const std::int64_t ticks = ticks_of(event.at);
    if (event.port != port) track.events.push_back(smf_port(event.port, ticks));
    port = event.port;
    track.events.push_back(smf_event(event, ticks));
  }
  file.tracks.push_back(std::move(track));
  return music::format_smf(file);
}

}  // namespace loftbeat::take
