#include <algorithm>
#include <cmath>
#include <limits>

#include "music/smf_file.h"
#include "music/smf_tempo.h"

namespace loftbeat::music {
namespace {

// Instants are kept within half the range of their integer (146 years), so that differences and
// small additions never overflow.
constexpr std::int64_t kLastInstant = std::numeric_limits<std::int64_t>::max() / 2;

Instant bounded_instant(Wide nanoseconds) {
  const Wide last = kLastInstant;
  return Instant(Nanoseconds(static_cast<std::int64_t>(std::clamp(nanoseconds, -last, last))));
}

}  // namespace

std::vector<SmfTempo> tempo_map(const SmfFile& file) {
  std::vector<SmfTempo> tempi;
  for (const SmfTrack& track : file.tracks) {
    for (const SmfEvent& event : track.events) {
      if (event.status != 0xFF || event.meta != 0x51 || event.data.size() != 3) continue;
      std::int64_t microseconds = 0;
      for (const char c : event.data)
        microseconds = microseconds << 8 | static_cast<std::uint8_t>(c);
      if (microseconds > 0) tempi.push_back({event.ticks, microseconds});
    }
  }
  std::stable_sort(tempi.begin(), tempi.end(),
                   [](const SmfTempo& a, const SmfTempo& b) { return a.ticks < b.ticks; });
  return tempi;
}

SmfClock::SmfClock(const SmfFile& file) : ticks_per_quarter_(file.ticks_per_quarter) {
  if (file.smpte) {
    ns_per_tick_smpte_ = 1e9 / file.ticks_per_second;
    return;
  }
  stretches_.push_back({0, kDefaultTempoMicroseconds, 0});
  for (const SmfTempo& tempo : tempo_map(file)) {
    const Stretch& last = stretches_.back();
    const Wide begin = last.begin + Wide{tempo.ticks - last.ticks} * last.microseconds;
    if (tempo.ticks == last.ticks) stretches_.pop_back();
    stretches_.push_back({tempo.ticks, tempo.microseconds, begin});
  }
}

Instant SmfClock::instant(std::int64_t ticks) const {
  if (ns_per_tick_smpte_ > 0) {
    const double ns = std::clamp(static_cast<double>(ticks) * ns_per_tick_smpte_, -4e18, 4e18);
    return Instant(Nanoseconds(std::llround(ns)));
  }
  const auto after = std::upper_bound(stretches_.begin(), stretches_.end(), ticks,
                                      [](std::int64_t t, const Stretch& s) { return t < s.ticks; });
  const Stretch& here = after == stretches_.begin() ? stretches_.front() : *std::prev(after);
  const Wide scaled = (here.begin + Wide{ticks - here.ticks} * here.microseconds) * 1000;
  const Wide half = ticks_per_quarter_ / 2;
  return bounded_instant((scaled + (scaled < 0 ? -half : half)) / ticks_per_quarter_);
}

}  // namespace loftbeat::music
