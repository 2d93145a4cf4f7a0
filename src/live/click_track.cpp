#include "live/click_track.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include "voice/next_pass.h"
#include "voice/pass_clock.h"

namespace loftbeat::live {
namespace {

constexpr double kLeastGapBeats = 0.5;

Tick full_bar(const music::Bar& bar) { return 4 * kTicksPerQuarter * bar.beats / bar.beat_type; }

// Where the bar line before its first note lies; a pickup bar counts back from its end.
Tick bar_line(const music::Bar& bar) {
  return bar.pickup ? bar.start + bar.length - full_bar(bar) : bar.start;
}

class TrackBuilder {
 public:
  explicit TrackBuilder(const ClickOrder& order)
      : order_(order), beat_(plan::ticks(order.plan->beat)) {
    track_.beat_seconds = 60 / order.tempo_bpm;
  }

  ClickTrack build() {
    double begin = 0;
    for (std::size_t p = 0; p < order_.route->passes.size(); ++p) {
      const plan::RoutePass& pass = order_.route->passes[p];
      const voice::PassClock clock(*order_.route, pass, order_.tempo_bpm, beat_);
      sounding_since_.reset();
      add_pass(static_cast<int>(p), clock, begin);
      const double next = begin + voice::next_begin(*order_.plan, *order_.score, *order_.route, p,
                                                    end_of(pass, clock), track_.beat_seconds);
      if (p + 1 < order_.route->passes.size()) {
        cut_before(next);
        add_between(static_cast<int>(p), begin, next);
      }
      begin = next;
    }
    track_.seconds = begin;
    add_count_in();
    return std::move(track_);
  }

 private:
  [[nodiscard]] voice::PassEnd end_of(const plan::RoutePass& pass,
                                      const voice::PassClock& clock) const {
    voice::PassEnd end{clock.length_seconds(), std::nullopt};
    if (pass.spans.empty() || pass.unaccompanied) return end;
    const TickSpan last = pass.spans.back();
    for (const music::Note& note : order_.score->notes) {
      if (note.onset >= last.begin && note.onset < last.end)
        end.last_onset = clock.seconds(pass.spans.size() - 1, note.onset);
    }
    return end;
  }

  void add_pass(int pass, const voice::PassClock& clock, double begin) {
    const std::vector<TickSpan>& spans = order_.route->passes[static_cast<std::size_t>(pass)].spans;
    for (std::size_t s = 0; s < spans.size(); ++s) {
      for (const music::Bar& bar : order_.score->bars) {
        if (bar.start >= spans[s].end || bar.start + bar.length <= spans[s].begin) continue;
        add_bar(pass, s, spans[s], bar, clock, begin);
      }
    }
  }

  void add_bar(int pass, std::size_t s, TickSpan span, const music::Bar& bar,
               const voice::PassClock& clock, double begin) {
    const Tick line = bar_line(bar);
    if (!sounding_since_ && line >= span.begin) sounding_since_ = bars_;
    for (Tick at = line; at < bar.start + bar.length; at += beat_) {
      if (at < bar.start || at < span.begin || at >= span.end) continue;
      PlannedBeat beat;
      beat.seconds = begin + clock.seconds(s, at);
      beat.pass = pass;
      beat.tick = at;
      beat.bar = bar.number;
      beat.beat_of_bar = static_cast<int>((at - line) / beat_) + 1;
      beat.clicks = clicks_in(bars_);
      track_.beats.push_back(beat);
    }
    ++bars_;
  }

  // Before the first whole bar of a pass all sounds.
  [[nodiscard]] bool clicks_in(int bar) const {
    if (order_.mode == ClickMode::always) return true;
    if (order_.mode != ClickMode::rests) return false;
    const int since = sounding_since_ ? bar - *sounding_since_ : 0;
    return since % (order_.sounding_bars + order_.resting_bars) < order_.sounding_bars;
  }

  // A last chord may be cut short by the next pass's upbeat.
  void cut_before(double next) {
    const double last = next - kLeastGapBeats * track_.beat_seconds;
    while (!track_.beats.empty() && track_.beats.back().seconds > last) track_.beats.pop_back();
  }

  // The beats of the join, counting on in the bar of the last one.
  void add_between(int pass, double begin, double next) {
    const int beats_of_bar = beats_in(order_.score->bars.back());
    PlannedBeat beat;
    beat.pass = pass;
    beat.seconds = begin - track_.beat_seconds;
    if (!track_.beats.empty() && track_.beats.back().seconds >= begin) beat = track_.beats.back();
    const bool sounds = clicks_in(bars_);
    beat.tick = -1;
    beat.bar.clear();
    beat.clicks = sounds;
    const double last = next - kLeastGapBeats * track_.beat_seconds;
    for (beat.seconds += track_.beat_seconds; beat.seconds <= last;
         beat.seconds += track_.beat_seconds) {
      beat.beat_of_bar = beat.beat_of_bar % beats_of_bar + 1;
      track_.beats.push_back(beat);
    }
  }

  [[nodiscard]] int beats_in(const music::Bar& bar) const {
    return std::max(1, static_cast<int>(full_bar(bar) / beat_));
  }

  void add_count_in() {
    if (order_.mode == ClickMode::off || order_.count_in_bars == 0 || track_.beats.empty()) return;
    const music::Bar& bar = music::bar_at(*order_.score, std::max<Tick>(0, first_tick()));
    const int of_bar = beats_in(bar);
    // Beats from the bar line to the first note, which an upbeat leaves to be counted.
    const double before =
        static_cast<double>(first_tick() - bar_line(bar)) / static_cast<double>(beat_);
    const double all = order_.count_in_bars * of_bar + before;
    std::vector<PlannedBeat> beats;
    for (int i = 0; i < all - 1e-9; ++i) {
      PlannedBeat beat;
      beat.seconds = (i - all) * track_.beat_seconds;
      beat.beat_of_bar = i % of_bar + 1;
      beats.push_back(beat);
    }
    track_.count_in_seconds = all * track_.beat_seconds;
    track_.beats.insert(track_.beats.begin(), beats.begin(), beats.end());
  }

  [[nodiscard]] Tick first_tick() const {
    for (const plan::RoutePass& pass : order_.route->passes)
      if (!pass.spans.empty()) return pass.spans.front().begin;
    return 0;
  }

  const ClickOrder& order_;
  Tick beat_;
  ClickTrack track_;
  int bars_ = 0;  // so far, of all passes
  std::optional<int> sounding_since_;
};

}  // namespace

std::string click_mode_word(ClickMode mode) {
  switch (mode) {
    case ClickMode::off: return "off";
    case ClickMode::always: return "always";
    case ClickMode::rests: return "rests";
    case ClickMode::count_in: break;
  }
  return "count-in";
}

ClickTrack click_track(const ClickOrder& order) { return TrackBuilder(order).build(); }

std::vector<rt::ClickAt> clicks_of(const ClickTrack& track, double sample_rate) {
  std::vector<rt::ClickAt> clicks;
  for (const PlannedBeat& beat : track.beats) {
    if (!beat.clicks) continue;
    const double from_start = beat.seconds + track.count_in_seconds;
    clicks.push_back(
        {static_cast<std::int64_t>(std::llround(from_start * sample_rate)), beat.beat_of_bar == 1});
  }
  return clicks;
}

}  // namespace loftbeat::live
