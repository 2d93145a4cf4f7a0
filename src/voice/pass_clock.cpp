#include "voice/pass_clock.h"

#include <algorithm>
#include <cmath>

namespace loftbeat::voice {
namespace {

constexpr double kFreeFermataBeats = 1;  // held at will: a beat (common practice, no source)

}  // namespace

PassClock::PassClock(const plan::Route& route, const plan::RoutePass& pass, double tempo_bpm,
                     Tick beat)
    : pass_(pass),
      beat_ticks_(static_cast<double>(beat)),
      beat_seconds_(60 / tempo_bpm),
      begins_{0} {
  for (const TickSpan& span : pass.spans) {
    const double begin = begins_.back();
    for (const plan::PlannedHold& hold : route.holds) {
      if (hold.until <= span.begin || hold.until > span.end) continue;
      const double extra =
          hold.kind == plan::FermataKind::free ? kFreeFermataBeats : hold.extra_beats;
      holds_.push_back({begin + static_cast<double>(hold.until - span.begin) / beat_ticks_,
                        extra * beat_seconds_});
    }
    if (pass.broaden_from && span.contains(*pass.broaden_from))
      broaden_from_ = begin + static_cast<double>(*pass.broaden_from - span.begin) / beat_ticks_;
    begins_.push_back(begin + static_cast<double>(span.length()) / beat_ticks_);
  }
}

// Holds apart.
double PassClock::steady(double beats) const {
  if (broaden_from_ < 0 || beats <= broaden_from_) return beats * beat_seconds_;
  const double length = begins_.back() - broaden_from_;
  const double loss = 1 - pass_.broaden_percent / 100;
  const double into = beats - broaden_from_;
  if (length <= 0 || loss <= 0) return beats * beat_seconds_;
  return (broaden_from_ - length / loss * std::log(1 - loss * into / length)) * beat_seconds_;
}

double PassClock::seconds(std::size_t span, Tick at) const {
  const double beats =
      begins_[span] + static_cast<double>(at - pass_.spans[span].begin) / beat_ticks_;
  double time = steady(beats);
  for (const Hold& hold : holds_)
    if (hold.from_beat <= beats + 1e-9) time += hold.seconds;
  return time;
}

double PassClock::length_seconds() const {
  double time = steady(begins_.back());
  for (const Hold& hold : holds_) time += hold.seconds;
  return time;
}

}  // namespace loftbeat::voice
