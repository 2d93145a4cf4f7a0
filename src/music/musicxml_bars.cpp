#include "music/musicxml_bars.h"

#include <algorithm>

namespace loftbeat::music {
namespace {

// What the parts say of one bar, taken together.
struct BarFacts {
  std::optional<Metre> metre;
  std::optional<bool> implicit;
  std::string number;
  Tick extent = 0;
  Tick rest_extent = 0;
  Tick last_onset = 0;
  bool fills_metre = false;
};

BarFacts gather(const WrittenScore& score, std::size_t index, SystemBar& bar) {
  BarFacts facts;
  for (const WrittenPart& part : score.parts) {
    if (index >= part.bars.size()) continue;
    const WrittenBar& written = part.bars[index];
    if (!facts.metre) facts.metre = written.metre;
    if (!facts.implicit) facts.implicit = written.implicit;
    if (facts.number.empty()) facts.number = written.number;
    facts.extent = std::max(facts.extent, written.extent);
    facts.rest_extent = std::max(facts.rest_extent, written.rest_extent);
    facts.last_onset = std::max(facts.last_onset, written.last_onset);
    facts.fills_metre |= written.fills_metre;
    merge_signs(bar.signs, written.signs);
  }
  return facts;
}

Tick bar_length(const BarFacts& facts, Tick full, bool may_be_short) {
  const Tick rests = facts.metre ? std::min(facts.rest_extent, full) : facts.rest_extent;
  if (facts.extent == 0) return rests > 0 ? rests : full;
  const bool rings_on =
      facts.metre && facts.extent > full && facts.fills_metre && facts.last_onset < full;
  if (rings_on) return full;
  return may_be_short ? facts.extent : std::max(facts.extent, rests);
}

constexpr int kMostBeats = 256;  // that a metre may have

// The largest value that fits, from quarters down; a very long bar is told in halves or wholes, and
// beyond that its metre is less than the bar.
Metre metre_of_length(Tick length) {
  for (const int type : {4, 8, 16, 32, 2, 1}) {
    const Tick unit = 4 * kTicksPerQuarter / type;
    if (length % unit == 0 && length / unit <= kMostBeats) {
      return {static_cast<int>(length / unit), type};
    }
  }
  const Tick unit = 4 * kTicksPerQuarter / 64;
  if (length <= kMostBeats * unit) return {static_cast<int>((length + unit - 1) / unit), 64};
  const Tick quarters_down = length / kTicksPerQuarter;
  if (quarters_down <= kMostBeats) return {static_cast<int>(quarters_down), 4};
  return {static_cast<int>(std::min<Tick>(quarters_down / 4, kMostBeats)), 1};
}

bool is_short(const SystemBar& bar) { return bar.length < bar.metre.length(); }

// The second half of a bar that was divided at a repeat or a line end.
bool completes(const SystemBar& before, const SystemBar& bar) {
  return !before.pickup && is_short(before) && before.metre == bar.metre &&
         before.length + bar.length == bar.metre.length();
}

void count_back(const std::vector<SystemBar>& before, const BarFacts& facts, SystemBar& bar) {
  if (!is_short(bar)) return;
  const bool first = before.empty();
  const bool second_half = !first && completes(before.back(), bar);
  bar.pickup = facts.implicit.value_or(first || second_half);
  if (!bar.pickup) return;
  if (first) bar.number.assign(1, '0');
  const bool unnumbered = bar.number.empty() || bar.number.front() == 'X';
  if (second_half && unnumbered) bar.number = before.back().number;
}

}  // namespace

void combine_bars(WrittenScore& score) {
  std::size_t count = 0;
  for (const WrittenPart& part : score.parts) count = std::max(count, part.bars.size());
  Metre latest;
  for (std::size_t i = 0; i < count; ++i) {
    SystemBar bar;
    const BarFacts facts = gather(score, i, bar);
    bar.number = facts.number;
    if (facts.metre) latest = *facts.metre;
    const bool may_be_short = i == 0 || facts.implicit.value_or(false);
    bar.length = bar_length(facts, latest.length(), may_be_short);
    bar.metre = facts.metre ? *facts.metre : metre_of_length(bar.length);
    count_back(score.bars, facts, bar);
    if (bar.number.empty()) bar.number = std::to_string(i + 1);
    score.bars.push_back(std::move(bar));
  }
}

}  // namespace loftbeat::music
