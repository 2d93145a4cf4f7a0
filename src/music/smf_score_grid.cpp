#include "music/smf_score_grid.h"

#include <algorithm>
#include <array>
#include <map>
#include <optional>
#include <tuple>
#include <utility>

namespace loftbeat::music {
namespace {

constexpr Tick kSemiquaver = kTicksPerQuarter / 4;
constexpr Tick kTripletQuaver = kTicksPerQuarter / 3;
constexpr Tick kShortest = kTicksPerQuarter / 16;
constexpr std::int64_t kFineDivision = 192;  // where a tick is short against any note

Tick nearest(Tick t, Tick step) { return (t + step / 2) / step * step; }
Tick distance(Tick t, Tick step) { return std::abs(t - nearest(t, step)); }
Tick round_up(Tick t, Tick step) { return (t + step - 1) / step * step; }

template <std::size_t Count>
std::size_t count_on(const std::vector<GridNote>& notes, const std::array<Tick, Count>& parts,
                     Tick slack) {
  return static_cast<std::size_t>(
      std::count_if(notes.begin(), notes.end(), [&](const GridNote& note) {
        return std::any_of(parts.begin(), parts.end(), [&](Tick part) {
          return distance(note.onset, kTicksPerQuarter / part) <= slack;
        });
      }));
}

// How far from the grid a notated time may lie: rounding, and, where a tick is short, one tick
// more, for some programs begin every note one tick late.
Tick slack_of(std::int64_t ticks_per_quarter) {
  const Tick half = kTicksPerQuarter / (2 * ticks_per_quarter) + 1;
  return ticks_per_quarter < kFineDivision ? half : 2 * half;
}

bool is_notated(const std::vector<GridNote>& notes, std::int64_t ticks_per_quarter) {
  const Tick slack = slack_of(ticks_per_quarter);
  const std::size_t plain = count_on(notes, std::array<Tick, 2>{16, 12}, slack);
  if (plain * 10 >= notes.size() * (ticks_per_quarter >= kFineDivision ? 6 : 9)) return true;
  const std::size_t fine = count_on(notes, std::array<Tick, 4>{32, 24, 20, 28}, slack);
  return ticks_per_quarter >= kFineDivision && fine * 100 >= notes.size() * 97;
}

// The nearest place of the grids within `slack`, coarse grids first.
std::optional<Tick> place_of(Tick t, Tick slack) {
  constexpr std::array<std::array<Tick, 2>, 3> kGrids{{{16, 12}, {32, 24}, {20, 28}}};
  for (const auto& [one, other] : kGrids) {
    const Tick a = nearest(t, kTicksPerQuarter / one);
    const Tick b = nearest(t, kTicksPerQuarter / other);
    const Tick best = std::abs(t - b) < std::abs(t - a) ? b : a;
    if (std::abs(t - best) <= slack) return best;
  }
  return std::nullopt;
}

Tick nearest_of(const std::vector<Tick>& sorted, Tick t) {
  const auto next = std::lower_bound(sorted.begin(), sorted.end(), t);
  if (next == sorted.end()) return sorted.empty() ? t : sorted.back();
  if (next == sorted.begin() || *next - t <= t - *std::prev(next)) return *next;
  return *std::prev(next);
}

// Takes rounding off. What lies off the grid, such as the lower notes of a broken chord, joins the
// nearest onset on it if that is less than a demisemiquaver away. Requires notes sorted.
void snap(std::vector<GridNote>& notes, Tick slack) {
  constexpr Tick kBrokenChord = kTicksPerQuarter / 8;
  std::vector<Tick> places;
  for (const GridNote& note : notes) {
    const auto place = place_of(note.onset, slack);
    if (place && (places.empty() || places.back() < *place)) places.push_back(*place);
  }
  for (GridNote& note : notes) {
    const Tick end = note.onset + note.length;
    const auto place = place_of(note.onset, slack);
    const Tick joined = nearest_of(places, note.onset);
    if (place) {
      note.onset = *place;
    } else if (std::abs(joined - note.onset) < kBrokenChord) {
      note.onset = joined;
    }
    note.length = std::max(place_of(end, slack).value_or(end) - note.onset, Tick{1});
  }
}

// For each beat (a quarter) the step of the grid its onsets fit.
class BeatGrids {
 public:
  explicit BeatGrids(const std::vector<GridNote>& notes) {
    for (const GridNote& note : notes) {
      Misfit& misfit = misfits_[note.onset / kTicksPerQuarter];
      misfit.semiquavers += distance(note.onset, kSemiquaver);
      misfit.triplets += distance(note.onset, kTripletQuaver);
    }
  }
  [[nodiscard]] Tick step_at(Tick t) const {
    const auto found = misfits_.find(t / kTicksPerQuarter);
    if (found == misfits_.end()) return kSemiquaver;
    return found->second.triplets * 2 < found->second.semiquavers ? kTripletQuaver : kSemiquaver;
  }

 private:
  struct Misfit {
    Tick semiquavers = 0;
    Tick triplets = 0;
  };
  std::map<Tick, Misfit> misfits_;
};

void quantise(std::vector<GridNote>& notes) {
  const BeatGrids grids(notes);
  for (GridNote& note : notes) {
    const Tick end = note.onset + note.length;
    const Tick onset = nearest(note.onset, grids.step_at(note.onset));
    const Tick step = grids.step_at(end);
    note.length = std::max(nearest(end, step), onset + step) - onset;
    note.onset = onset;
  }
}

std::vector<Tick> onsets_of(const std::vector<GridNote>& notes) {
  std::vector<Tick> onsets;
  for (const GridNote& note : notes) {
    if (onsets.empty() || onsets.back() != note.onset) onsets.push_back(note.onset);
  }
  return onsets;
}

bool is_detached(const std::vector<GridNote>& notes, const std::vector<Tick>& onsets) {
  std::size_t together = 0;
  for (const GridNote& note : notes) {
    const Tick end = note.onset + note.length;
    const bool with_onset = std::binary_search(onsets.begin(), onsets.end(), end);
    if (with_onset || end % (kTicksPerQuarter / 4) == 0) ++together;
  }
  return together * 2 < notes.size();
}

// The coarsest plain value that is at most 15 % longer than what sounded.
Tick plain_length(Tick length) {
  for (const Tick parts : {1, 2, 3, 4, 6, 8, 12}) {
    const Tick value = round_up(length, kTicksPerQuarter / parts);
    if ((value - length) * 20 <= value * 3) return value;
  }
  return round_up(length, kShortest);
}

Tick rounded_up(const GridNote& note, const std::vector<Tick>& onsets) {
  const Tick end = note.onset + note.length;
  const auto next = std::lower_bound(onsets.begin(), onsets.end(), end);
  const bool near = next != onsets.end() && (*next - end) * 4 <= *next - note.onset;
  return near ? *next - note.onset : plain_length(note.length);
}

std::size_t lengthen(std::vector<GridNote>& notes, const std::vector<Tick>& onsets) {
  std::size_t changed = 0;
  for (GridNote& note : notes) {
    const Tick length = rounded_up(note, onsets);
    if (length != note.length) ++changed;
    note.length = length;
  }
  return changed;
}

// From the last note to the first, so that the next of each pitch and part is known.
void end_before_next(std::vector<GridNote>& notes) {
  struct Next {
    Tick onset = 0;  // the next onset, later than `same`'s notes
    Tick same = 0;   // onset of the last note looked at
    bool any_later = false;
  };
  std::map<std::pair<int, int>, Next> nexts;
  for (std::size_t i = notes.size(); i-- > 0;) {
    GridNote& note = notes[i];
    const auto [found, first] =
        nexts.try_emplace({note.part, note.pitch}, Next{0, note.onset, false});
    Next& next = found->second;
    if (!first && next.same != note.onset) next = {next.same, note.onset, true};
    if (next.any_later) note.length = std::min(note.length, next.onset - note.onset);
  }
}

void sort(std::vector<GridNote>& notes) {
  std::sort(notes.begin(), notes.end(), [](const GridNote& a, const GridNote& b) {
    return std::tie(a.onset, a.part, a.pitch, a.length) <
           std::tie(b.onset, b.part, b.pitch, b.length);
  });
}

// Strikes of one key that were moved to one onset are one note.
void drop_doubles(std::vector<GridNote>& notes) {
  std::size_t kept = 0;
  for (const GridNote& note : notes) {
    GridNote* last = kept > 0 ? &notes[kept - 1] : nullptr;
    if (last != nullptr && last->onset == note.onset && last->part == note.part &&
        last->pitch == note.pitch) {
      last->length = note.length;  // sorted by length, so the longest stays
    } else {
      notes[kept++] = note;
    }
  }
  notes.resize(kept);
}

}  // namespace

Tick score_tick(std::int64_t ticks, std::int64_t ticks_per_quarter) {
  const Wide doubled = Wide{ticks} * kTicksPerQuarter * 2 + ticks_per_quarter;
  return static_cast<Tick>(doubled / (2 * ticks_per_quarter));
}

Tick notated_tick(std::int64_t ticks, std::int64_t ticks_per_quarter) {
  const Tick exact = score_tick(ticks, ticks_per_quarter);
  return place_of(exact, slack_of(ticks_per_quarter)).value_or(exact);
}

GridNotes put_on_grid(const SmfNotes& notes, std::int64_t ticks_per_quarter) {
  GridNotes grid;
  grid.notes.reserve(notes.notes.size());
  for (const SmfNote& note : notes.notes) {
    const Tick onset = score_tick(note.on, ticks_per_quarter);
    const Tick end = score_tick(note.off, ticks_per_quarter);
    grid.notes.push_back({onset, std::max(end - onset, Tick{1}), note.pitch, note.part});
  }
  grid.quantised = !is_notated(grid.notes, ticks_per_quarter);
  if (grid.quantised) {
    quantise(grid.notes);
  } else {
    snap(grid.notes, slack_of(ticks_per_quarter));
  }
  sort(grid.notes);
  const std::vector<Tick> onsets = onsets_of(grid.notes);
  if (grid.quantised) {
    lengthen(grid.notes, onsets);
    drop_doubles(grid.notes);
  } else if (is_detached(grid.notes, onsets)) {
    grid.lengthened = lengthen(grid.notes, onsets);
  }
  end_before_next(grid.notes);
  return grid;
}

}  // namespace loftbeat::music
