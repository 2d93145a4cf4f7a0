#include <algorithm>
#include <optional>

#include "practice/findings.h"

namespace loftbeat::practice {
namespace {

using advise::StopVerdict;

FindingKind stop_fault_kind(StopVerdict verdict) {
  switch (verdict) {
    case StopVerdict::heard_in_the_chord: return FindingKind::stops_heard;
    case StopVerdict::cost_the_beat: return FindingKind::stops_cost_beat;
    case StopVerdict::after_the_beat: return FindingKind::stops_after_beat;
    case StopVerdict::clean:
    case StopVerdict::left_out: break;
  }
  return FindingKind::stops_left_out;
}

// Milliseconds on the wrong side: before the release, past the planned entry, after the entry.
double stop_fault_ms(const Review& review, const advise::JudgedMove& move) {
  const auto& join = review.timing.joins[static_cast<std::size_t>(move.join)];
  switch (*move.verdict) {
    case StopVerdict::heard_in_the_chord: return (join.release_s - move.first_s) * 1000;
    case StopVerdict::cost_the_beat: return *move.past_entry_ms;
    case StopVerdict::after_the_beat: return (move.last_s - join.onset_s) * 1000;
    case StopVerdict::clean:
    case StopVerdict::left_out: break;
  }
  return 0;
}

}  // namespace

void find_stop_faults(const Review& review, std::vector<Finding>& out) {
  // Beyond half a second a fault at the stops is as plain as a join half a second out (assumption).
  constexpr double kPlainMs = 500;
  for (const advise::JudgedMove& move : review.stops.moves) {
    if (!move.fault || !move.verdict) continue;
    Finding finding;
    finding.kind = stop_fault_kind(*move.verdict);
    finding.join = move.join;
    finding.pass = review.timing.joins[static_cast<std::size_t>(move.join)].before;
    finding.figure = stop_fault_ms(review, move);
    finding.unit = "ms";
    finding.severity = 1 + std::min(1.0, std::max(0.0, finding.figure) / kPlainMs);
    if (finding.kind != FindingKind::stops_cost_beat) {
      out.push_back(std::move(finding));
      continue;
    }
    // The late join is told with its cause, once.
    const auto late =
        std::find_if(out.begin(), out.end(), [&](const Finding& f) { return f.join == move.join; });
    if (late == out.end()) {
      out.push_back(std::move(finding));
      continue;
    }
    finding.severity = std::max(finding.severity, late->severity);
    *late = std::move(finding);
  }
}

}  // namespace loftbeat::practice
