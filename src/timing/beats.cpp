#include "timing/beats.h"

#include <algorithm>

namespace loftbeat::timing {

namespace {

double in_beats(Tick ticks, Tick beat) {
  return static_cast<double>(ticks) / static_cast<double>(beat);
}

bool runs_upwards(const std::vector<TickSpan>& stretches) {
  for (std::size_t i = 1; i < stretches.size(); ++i)
    if (stretches[i].begin < stretches[i - 1].end) return false;
  return true;
}

// Beats of one bar that lie in `stretch`.
void add_bar_beats(const music::Bar& bar, std::size_t stretch, const PassWay& way,
                   std::vector<GridBeat>& out) {
  const Tick beat = way.beat();
  const Tick end = bar.start + bar.length;
  const Tick first = bar.pickup ? bar.start + bar.length % beat : bar.start;
  const TickSpan& span = way.stretches()[stretch];
  for (Tick tick = first; tick < end; tick += beat)
    if (span.contains(tick)) out.push_back({way.place(stretch, tick), tick, std::nullopt, false});
}

// Times the grid's beats; both lists are in order of place.
void put_times(const std::vector<StruckPlace>& struck, std::vector<GridBeat>& grid) {
  std::size_t next = 0;
  for (GridBeat& beat : grid) {
    while (next < struck.size() && struck[next].x < beat.x) ++next;
    if (next == struck.size()) return;
    const StruckPlace& after = struck[next];
    if (after.tick == beat.tick && after.x <= beat.x) {
      beat.t = after.t;
      beat.struck = true;
    } else if (next > 0) {
      const StruckPlace& before = struck[next - 1];
      const double share = (beat.x - before.x) / (after.x - before.x);
      beat.t = before.t + share * (after.t - before.t);
    }
  }
}

}  // namespace

PassWay::PassWay(const follow::AlignedPass& pass, Tick beat) : stretches_(pass.spans), beat_(beat) {
  if (stretches_.empty()) stretches_.push_back(pass.covered);
  double begin = 0;
  for (const TickSpan& span : stretches_) {
    begins_.push_back(begin);
    begin += in_beats(span.length(), beat_);
  }
}

double PassWay::place(std::size_t stretch, Tick tick) const {
  return begins_[stretch] + in_beats(tick - stretches_[stretch].begin, beat_);
}

std::optional<std::size_t> PassWay::stretch_of(Tick tick, std::size_t from) const {
  for (std::size_t i = from; i < stretches_.size(); ++i)
    if (stretches_[i].contains(tick)) return i;
  if (!stretches_.empty() && stretches_.back().end == tick) return stretches_.size() - 1;
  return std::nullopt;
}

std::optional<double> PassWay::place_of(Tick tick) const {
  const auto stretch = stretch_of(tick);
  if (!stretch) return std::nullopt;
  return place(*stretch, tick);
}

double PassWay::length() const {
  return begins_.empty() ? 0 : begins_.back() + in_beats(stretches_.back().length(), beat_);
}

std::vector<StruckPlace> struck_places(const follow::AlignedPass& pass, const PassWay& way) {
  std::vector<follow::StruckOnset> onsets = pass.onsets;
  if (!runs_upwards(way.stretches()))
    std::stable_sort(onsets.begin(), onsets.end(),
                     [](const auto& a, const auto& b) { return a.median < b.median; });
  std::vector<StruckPlace> places;
  std::size_t stretch = 0;
  for (const follow::StruckOnset& onset : onsets) {
    const bool back = !places.empty() && onset.tick <= places.back().tick;
    const auto found = way.stretch_of(onset.tick, back ? stretch + 1 : stretch);
    if (!found || !way.stretches()[*found].contains(onset.tick)) continue;
    stretch = *found;
    places.push_back({way.place(stretch, onset.tick), seconds(onset.median), onset.tick});
  }
  return places;
}

std::vector<GridBeat> beat_grid(const music::Score& score, const PassWay& way,
                                const std::vector<StruckPlace>& struck) {
  std::vector<GridBeat> grid;
  if (struck.empty()) return grid;
  for (std::size_t s = 0; s < way.stretches().size(); ++s) {
    const TickSpan& span = way.stretches()[s];
    auto bar = std::partition_point(score.bars.begin(), score.bars.end(), [&](const music::Bar& b) {
      return b.start + b.length <= span.begin;
    });
    for (; bar != score.bars.end() && bar->start < span.end; ++bar)
      add_bar_beats(*bar, s, way, grid);
  }
  std::erase_if(grid, [&](const GridBeat& beat) {
    return beat.x < struck.front().x || beat.x > struck.back().x;
  });
  put_times(struck, grid);
  return grid;
}

std::optional<double> first_full_bar(const music::Score& score, const PassWay& way) {
  for (std::size_t s = 0; s < way.stretches().size(); ++s)
    for (const music::Bar& bar : score.bars)
      if (!bar.pickup && way.stretches()[s].contains(bar.start)) return way.place(s, bar.start);
  return std::nullopt;
}

}  // namespace loftbeat::timing
