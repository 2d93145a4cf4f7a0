#include "follow/note_match.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>
#include <optional>

#include "follow/rolled.h"

namespace loftbeat::follow {
namespace {

constexpr double kLooseNs = 450e6;
constexpr double kStrictNs = 300e6;
constexpr double kOctaveNs = 170e6;
constexpr double kSlowShare = 0.75;
constexpr double kLeastReachNs = 80e6;
constexpr double kShareOfWay = 0.6;
// A key brushed, or one that bounces, is not the note if a real one is near.
constexpr int kFaintVelocity = 24;
constexpr double kFaint = 0.3;

struct ScoreSide {
  double expected = 0;  // ns
  int note = 0;
  double early = 0;  // how much sooner, ns, it may have been struck
  double late = 0;
};
struct TakenSide {
  double at = 0;     // ns
  double faint = 0;  // what pairing with a key that was barely touched costs
  int note = 0;
};
struct PitchSides {
  std::vector<ScoreSide> score;
  std::vector<TakenSide> taken;
};
using Sides = std::array<PitchSides, 128>;

bool in_set(std::uint64_t voices, const music::Note& note) {
  return note.voice >= 64 || ((voices >> note.voice) & 1u) != 0;
}

int sounding_pitch(const MatchTask& task, const music::Note& note) {
  return note.pitch + task.transpose + (note.voice == 0 ? task.tune_shift : 0);
}

double ns_of(Instant at) { return static_cast<double>(at.time_since_epoch().count()); }

// A note is looked for little further than half-way to the onset next to it: what was struck
// nearer to that one belongs there.
double reach_towards(const TimeMap& map, Tick neighbour, Tick tick, double reach) {
  const double away = std::abs(map.at(neighbour) - map.at(tick));
  return std::clamp(kShareOfWay * away, std::min(kLeastReachNs, reach), reach);
}

// Score notes of the task, each unison once: a key can only be struck once for two voices.
void collect_score(const MatchTask& task, const TimeMap& map, double reach, Sides& sides) {
  const int last = task.table.size();
  for (int k = task.table.at_or_after(task.from); k < last; ++k) {
    const Onset& onset = task.table[k];
    if (onset.tick > task.to) break;
    const double expected = map.tempered(onset.tick);
    const double early =
        k > 0 ? reach_towards(map, task.table[k - 1].tick, onset.tick, reach) : reach;
    const double late =
        k + 1 < last ? reach_towards(map, task.table[k + 1].tick, onset.tick, reach) : reach;
    for (std::uint32_t i = onset.first; i < onset.first + onset.count; ++i) {
      const int index = task.table.notes()[i];
      const music::Note& note = task.score.notes[static_cast<std::size_t>(index)];
      const int pitch = sounding_pitch(task, note);
      if (pitch < 0 || pitch > 127 || !in_set(task.voices, note)) continue;
      auto& side = sides[static_cast<std::size_t>(pitch)].score;
      if (!side.empty()) {
        const auto& before = task.score.notes[static_cast<std::size_t>(side.back().note)];
        if (before.onset == note.onset) continue;
      }
      side.push_back({expected, index, early, late});
    }
  }
}

void collect_taken(const MatchTask& task, Sides& sides) {
  for (std::size_t n = task.first_note; n < task.last_note; ++n) {
    const take::TakenNote& note = task.take.notes[n];
    const double faint = task.take.velocity_varies && note.velocity < kFaintVelocity ? kFaint : 0;
    sides[note.pitch].taken.push_back({ns_of(note.on), faint, static_cast<int>(n)});
  }
}

// Exact assignment of one pitch within [s, s_end) x [t, t_end). Pairs earn 1 - distance / reach,
// what stays alone earns nothing.
class Assignment {
 public:
  void solve(const PitchSides& sides, std::size_t s, std::size_t s_end, std::size_t t,
             std::size_t t_end, std::vector<Pair>& pairs) {
    const std::size_t rows = s_end - s + 1;
    const std::size_t columns = t_end - t + 1;
    best_.assign(rows * columns, 0.0);
    for (std::size_t i = rows - 1; i-- > 0;) {
      for (std::size_t j = columns - 1; j-- > 0;) {
        const double pair = gain(sides, s + i, t + j) + at(i + 1, j + 1, columns);
        best_[i * columns + j] = std::max({pair, at(i + 1, j, columns), at(i, j + 1, columns)});
      }
    }
    std::size_t i = 0;
    std::size_t j = 0;
    while (i + 1 < rows && j + 1 < columns) {
      const double here = at(i, j, columns);
      const double g = gain(sides, s + i, t + j);
      if (g > 0 && here == g + at(i + 1, j + 1, columns)) {
        pairs.push_back({sides.score[s + i].note, sides.taken[t + j].note,
                         sides.taken[t + j].at - sides.score[s + i].expected, false});
        ++i;
        ++j;
      } else if (here == at(i + 1, j, columns)) {
        ++i;
      } else {
        ++j;
      }
    }
  }

 private:
  [[nodiscard]] double at(std::size_t i, std::size_t j, std::size_t columns) const {
    return best_[i * columns + j];
  }
  static double gain(const PitchSides& sides, std::size_t i, std::size_t j) {
    const TakenSide& taken = sides.taken[j];
    const double off = taken.at - sides.score[i].expected;
    return 1.0 - taken.faint - (off < 0 ? -off / sides.score[i].early : off / sides.score[i].late);
  }
  std::vector<double> best_;
};

// Cuts one pitch into groups that cannot be confused, so that each assignment stays small.
void assign_pitch(const PitchSides& sides, double reach, Assignment& assignment,
                  std::vector<Pair>& pairs) {
  std::size_t s = 0;
  std::size_t t = 0;
  while (s < sides.score.size() && t < sides.taken.size()) {
    double end = std::min(sides.score[s].expected, sides.taken[t].at);
    std::size_t s_end = s;
    std::size_t t_end = t;
    for (bool grew = true; grew;) {
      grew = false;
      if (s_end < sides.score.size() && sides.score[s_end].expected <= end + reach) {
        end = std::max(end, sides.score[s_end++].expected);
        grew = true;
      }
      if (t_end < sides.taken.size() && sides.taken[t_end].at <= end + reach) {
        end = std::max(end, sides.taken[t_end++].at);
        grew = true;
      }
    }
    assignment.solve(sides, s, s_end, t, t_end, pairs);
    s = s_end;
    t = t_end;
  }
}

std::vector<Pair> assign(const MatchTask& task, const TimeMap& map, double reach) {
  Sides sides;
  collect_score(task, map, reach, sides);
  collect_taken(task, sides);
  std::vector<Pair> pairs;
  Assignment assignment;
  for (const PitchSides& side : sides) {
    if (!side.score.empty() && !side.taken.empty()) assign_pitch(side, reach, assignment, pairs);
  }
  return pairs;
}

double median_of(std::vector<double>& values) {
  const std::size_t half = values.size() / 2;
  std::sort(values.begin(), values.end());
  return values.size() % 2 == 1 ? values[half] : 0.5 * (values[half - 1] + values[half]);
}

TimeMap learn(const MatchTask& task, std::vector<Pair> pairs, double ns_per_tick) {
  auto tick_of = [&](const Pair& pair) {
    return task.score.notes[static_cast<std::size_t>(pair.score)].onset;
  };
  std::sort(pairs.begin(), pairs.end(), [&](const Pair& a, const Pair& b) {
    return tick_of(a) != tick_of(b) ? tick_of(a) < tick_of(b) : a.taken < b.taken;
  });
  std::vector<TimeMap::Point> points;
  std::vector<double> times;
  for (std::size_t i = 0; i < pairs.size();) {
    const Tick tick = tick_of(pairs[i]);
    times.clear();
    for (; i < pairs.size() && tick_of(pairs[i]) == tick; ++i) {
      times.push_back(ns_of(task.take.notes[static_cast<std::size_t>(pairs[i].taken)].on));
    }
    const auto weight = static_cast<double>(times.size());
    points.push_back({tick, median_of(times), weight});
  }
  return TimeMap(std::move(points), ns_per_tick);
}

TimeMap map_of_anchors(const OnsetTable& table, const std::vector<Anchor>& anchors,
                       double ns_per_tick) {
  std::vector<TimeMap::Point> points;
  points.reserve(anchors.size());
  for (const Anchor& anchor : anchors) {
    points.push_back(
        {table[anchor.onset].tick, ns_of(anchor.at), static_cast<double>(anchor.count)});
  }
  return TimeMap(std::move(points), ns_per_tick);
}

// A chord rolled slowly, or a right note struck late: what is still free and lies between the
// onsets before and after, nearer to this one, is taken for it.
class SlowSearch {
 public:
  SlowSearch(const MatchTask& task, const std::vector<Pair>& pairs) : task_(task), by_pitch_(128) {
    std::vector<bool> used(task.last_note - task.first_note, false);
    for (const Pair& pair : pairs) {
      used[static_cast<std::size_t>(pair.taken) - task.first_note] = true;
    }
    for (std::size_t n = task.first_note; n < task.last_note; ++n) {
      if (!used[n - task.first_note]) by_pitch_[task.take.notes[n].pitch].push_back(n);
    }
  }

  // `earliest` and `latest` in ns; both rise from search to search.
  std::optional<Pair> find(int index, double expected, double earliest, double latest) {
    const music::Note& note = task_.score.notes[static_cast<std::size_t>(index)];
    const int pitch = sounding_pitch(task_, note);
    if (pitch < 0 || pitch > 127 || !in_set(task_.voices, note)) return std::nullopt;
    std::vector<std::size_t>& free = by_pitch_[static_cast<std::size_t>(pitch)];
    auto first = std::lower_bound(free.begin(), free.end(), earliest,
                                  [&](std::size_t n, double t) { return at(n) < t; });
    auto best = free.end();
    for (auto it = first; it != free.end() && at(*it) <= latest; ++it) {
      if (best == free.end() || std::abs(at(*it) - expected) < std::abs(at(*best) - expected)) {
        best = it;
      }
    }
    if (best == free.end()) return std::nullopt;
    const Pair pair{index, static_cast<int>(*best), at(*best) - expected, false};
    free.erase(best);
    return pair;
  }

 private:
  [[nodiscard]] double at(std::size_t n) const { return ns_of(task_.take.notes[n].on); }
  const MatchTask& task_;
  std::vector<std::vector<std::size_t>> by_pitch_;
};

void match_slow(const MatchTask& task, Matching& matching) {
  std::vector<bool> paired(task.score.notes.size(), false);
  for (const Pair& pair : matching.pairs) paired[static_cast<std::size_t>(pair.score)] = true;
  SlowSearch search(task, matching.pairs);
  for (int k = task.table.at_or_after(task.from); k < task.table.size(); ++k) {
    const Onset& onset = task.table[k];
    if (onset.tick > task.to) break;
    const double expected = matching.map.at(onset.tick);
    const double before = k > 0 ? matching.map.at(task.table[k - 1].tick) : expected - kStrictNs;
    const double after = matching.map.at(task.table.end_of(k));
    const double earliest = expected - 0.5 * (expected - before);
    const double latest = expected + kSlowShare * (after - expected);
    for (std::uint32_t i = onset.first; i < onset.first + onset.count; ++i) {
      const int index = task.table.notes()[i];
      if (paired[static_cast<std::size_t>(index)]) continue;
      if (const std::optional<Pair> pair = search.find(index, expected, earliest, latest)) {
        matching.pairs.push_back(*pair);
      }
    }
  }
}

// Looks for a score note in another octave among the played notes that are still free. Expected
// times must not fall from one search to the next.
class OctaveSearch {
 public:
  OctaveSearch(const MatchTask& task, const std::vector<Pair>& pairs)
      : task_(task), next_(task.first_note), used_(task.last_note - task.first_note, false) {
    for (const Pair& pair : pairs)
      used_[static_cast<std::size_t>(pair.taken) - task.first_note] = true;
  }

  std::optional<Pair> find(int index, double expected) {
    const music::Note& note = task_.score.notes[static_cast<std::size_t>(index)];
    if (!in_set(task_.voices & task_.octave_voices, note)) return std::nullopt;
    while (next_ < task_.last_note && at(next_) < expected - kOctaveNs) ++next_;
    double best = kOctaveNs;
    std::size_t chosen = task_.last_note;
    for (std::size_t n = next_; n < task_.last_note && at(n) <= expected + kOctaveNs; ++n) {
      const double distance = std::abs(at(n) - expected);
      if (used_[n - task_.first_note] || distance >= best || !is_octave(n, note)) continue;
      best = distance;
      chosen = n;
    }
    if (chosen == task_.last_note) return std::nullopt;
    used_[chosen - task_.first_note] = true;
    const bool octave = task_.take.notes[chosen].pitch != note.pitch + task_.transpose;
    return Pair{index, static_cast<int>(chosen), at(chosen) - expected, octave};
  }

 private:
  [[nodiscard]] double at(std::size_t n) const { return ns_of(task_.take.notes[n].on); }
  [[nodiscard]] bool is_octave(std::size_t n, const music::Note& note) const {
    const int interval = task_.take.notes[n].pitch - sounding_pitch(task_, note);
    return interval != 0 && interval % 12 == 0 && std::abs(interval) <= 24;
  }

  const MatchTask& task_;
  std::size_t next_;
  std::vector<bool> used_;
};

}  // namespace

Matching match_notes(const MatchTask& task, const std::vector<Anchor>& start, double ns_per_tick) {
  TimeMap map = map_of_anchors(task.table, start, ns_per_tick);
  map = learn(task, assign(task, map, kLooseNs), ns_per_tick);
  Matching matching{assign(task, map, kStrictNs), TimeMap({}, ns_per_tick)};
  matching.map = learn(task, matching.pairs, ns_per_tick);
  match_slow(task, matching);
  give_rolls_their_last_note(task, matching.pairs);
  for (Pair& pair : matching.pairs) {
    const bool tune = task.score.notes[static_cast<std::size_t>(pair.score)].voice == 0;
    pair.octave = tune && task.tune_shift != 0;
  }
  std::sort(matching.pairs.begin(), matching.pairs.end(),
            [](const Pair& a, const Pair& b) { return a.taken < b.taken; });
  return matching;
}

void match_octaves(const MatchTask& task, Matching& matching) {
  std::vector<bool> score_used(task.score.notes.size(), false);
  OctaveSearch search(task, matching.pairs);
  for (const Pair& pair : matching.pairs) score_used[static_cast<std::size_t>(pair.score)] = true;
  for (int k = task.table.at_or_after(task.from); k < task.table.size(); ++k) {
    const Onset& onset = task.table[k];
    if (onset.tick > task.to) break;
    const double expected = matching.map.tempered(onset.tick);
    // From the top: the tune's octave is the one that matters.
    for (std::uint32_t i = onset.first + onset.count; i-- > onset.first;) {
      const int index = task.table.notes()[i];
      if (score_used[static_cast<std::size_t>(index)]) continue;
      if (const std::optional<Pair> pair = search.find(index, expected)) {
        score_used[static_cast<std::size_t>(index)] = true;
        matching.pairs.push_back(*pair);
      }
    }
  }
  std::sort(matching.pairs.begin(), matching.pairs.end(),
            [](const Pair& a, const Pair& b) { return a.taken < b.taken; });
}

}  // namespace loftbeat::follow
