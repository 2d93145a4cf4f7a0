#include "live/live_view.h"

#include <algorithm>

#include "voice/pass_clock.h"

namespace loftbeat::live {
namespace {

double quarters_of(const LiveView::Work& work) {
  return work.tempo_bpm * static_cast<double>(plan::ticks(work.plan->beat)) /
         static_cast<double>(kTicksPerQuarter);
}

const plan::RoutePass* pass_of(const plan::Route& route, int index) {
  const bool known = index >= 0 && static_cast<std::size_t>(index) < route.passes.size();
  return known ? &route.passes[static_cast<std::size_t>(index)] : nullptr;
}

}  // namespace

LiveView::LiveView(const Work& work)
    : work_(work), follower_(*work.score, *work.route, quarters_of(work)) {}

void LiveView::feed(const take::Event& event) {
  if (event.kind == take::EventKind::note_on) {
    ++keys_down_;
    last_note_ = event.at;
    follower_.note_on(event.at, event.data1);
    struck(event.at);
  } else if (event.kind == take::EventKind::note_off) {
    keys_down_ = std::max(0, keys_down_ - 1);
    follower_.note_off(event.at, event.data1);
  }
}

// Seconds from the pass's beginning, as planned.
std::optional<double> LiveView::planned_seconds(int route_pass, Tick tick) const {
  const plan::RoutePass* pass = pass_of(*work_.route, route_pass);
  if (pass == nullptr) {
    return static_cast<double>(tick) * 60 / work_.tempo_bpm /
           static_cast<double>(plan::ticks(work_.plan->beat));
  }
  const voice::PassClock clock(*work_.route, *pass, work_.tempo_bpm, plan::ticks(work_.plan->beat));
  for (std::size_t s = 0; s < pass->spans.size(); ++s)
    if (pass->spans[s].contains(tick)) return clock.seconds(s, tick);
  return std::nullopt;
}

void LiveView::struck(Instant at) {
  const follow::LivePosition position = follower_.position(at);
  behind_.reset();
  if (!position.in_tune) return;
  if (position.passes_begun != passes_begun_) {
    passes_begun_ = position.passes_begun;
    anchor_ = at;
    anchor_tick_ = position.onset;
  }
  const auto here = planned_seconds(position.route_pass, position.onset);
  const auto there = planned_seconds(position.route_pass, anchor_tick_);
  if (here && there) behind_ = seconds(at) - seconds(anchor_) - (*here - *there);
}

std::string LiveView::label_of(const follow::LivePosition& position) const {
  if (const plan::RoutePass* pass = pass_of(*work_.route, position.route_pass)) return pass->label;
  const auto played_over =
      std::count_if(work_.route->passes.begin(), work_.route->passes.end(),
                    [](const auto& pass) { return pass.kind == plan::PassKind::play_over; });
  return std::to_string(position.passes_begun - static_cast<int>(played_over));
}

void LiveView::tell_place(const follow::LivePosition& position, NowPlaying& now) const {
  const music::Score& score = *work_.score;
  const Tick tick = std::clamp<Tick>(position.tick, 0, score.length - 1);
  now.bar = music::bar_at(score, tick).number;
  now.beat = music::beat_in_bar(score, tick, plan::ticks(work_.plan->beat));
  const auto& phrases = work_.route->phrases.empty() ? score.phrases : work_.route->phrases;
  for (std::size_t p = 0; p < phrases.size(); ++p)
    if (phrases[p].span.contains(tick)) now.phrase = static_cast<int>(p) + 1;
  const plan::RoutePass* pass = pass_of(*work_.route, position.route_pass);
  const TickSpan whole{0, score.length};
  const TickSpan last = pass == nullptr || pass->spans.empty() ? whole : pass->spans.back();
  if (now.phrase > 0) {
    const TickSpan phrase = phrases[static_cast<std::size_t>(now.phrase) - 1].span;
    now.last_phrase = phrase.end >= last.end && last.contains(tick);
  }
  Tick last_onset = 0;
  for (const music::Note& note : score.notes)
    if (note.onset < last.end) last_onset = std::max(last_onset, note.onset);
  now.in_join = position.onset == last_onset;
}

NowPlaying LiveView::look(Instant at) const {
  NowPlaying now;
  const follow::LivePosition position = follower_.position(at);
  now.begun = position.passes_begun > 0;
  now.in_tune = position.in_tune;
  now.keys_down = keys_down_;
  now.last_note = last_note_;
  if (!now.begun) return now;
  now.route_pass = position.route_pass;
  now.passes_begun = position.passes_begun;
  now.pass = label_of(position);
  now.unsure = position.unsure;
  now.behind_seconds = behind_;
  const auto joins = static_cast<int>(work_.route->joins.size());
  if (position.route_pass >= 0 && position.route_pass < joins)
    now.coming_join = position.route_pass;
  if (position.ns_per_tick > 0)
    now.quarters_per_minute = 60e9 / position.ns_per_tick / static_cast<double>(kTicksPerQuarter);
  if (now.in_tune) tell_place(position, now);
  return now;
}

}  // namespace loftbeat::live
