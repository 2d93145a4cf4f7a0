#include "follow/pass_match.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>

namespace loftbeat::follow {
namespace {

constexpr Nanoseconds kRoundTheEdge{300'000'000};
constexpr double kWithOnsetNs = 150e6;

std::size_t first_from(const take::CleanTake& take, Instant at) {
  auto it = std::lower_bound(take.notes.begin(), take.notes.end(), at,
                             [](const take::TakenNote& n, Instant t) { return n.on < t; });
  return static_cast<std::size_t>(it - take.notes.begin());
}

// Score time of a stretch, one onset further at both ends: the walk may have missed a first or
// last chord that was spread or partly wrong.
TickSpan widened(const OnsetTable& table, const Stretch& stretch) {
  const int first = std::max(0, stretch.first_onset() - 1);
  const int last = std::min(table.size() - 1, stretch.last_onset() + 1);
  return {table[first].tick, table[last].tick};
}

const music::Note& note_of(const FollowTask& task, const Pair& pair) {
  return task.score.notes[static_cast<std::size_t>(pair.score)];
}
const take::TakenNote& taken_of(const FollowTask& task, const Pair& pair) {
  return task.take.notes[static_cast<std::size_t>(pair.taken)];
}

void count_pair(const FollowTask& task, const Pair& pair, TextureEvidence& evidence) {
  VoiceCount& voice = evidence.voices[static_cast<std::size_t>(note_of(task, pair).voice)];
  if (pair.octave) {
    ++voice.octave_other;
  } else {
    ++voice.exact;
  }
}

// A struck onset: when, and which note of the tune (-1 if the tune does not strike there).
struct Moment {
  Instant at;
  Tick tick = 0;
  int tune = -1;  // sounding pitch as written
};

std::vector<Moment> moments_of(const FollowTask& task, const MatchedStretch& matched) {
  std::vector<Moment> moments;
  std::vector<Pair> by_score = matched.pairs;
  std::sort(by_score.begin(), by_score.end(),
            [](const Pair& a, const Pair& b) { return a.score < b.score; });
  for (const Pair& pair : by_score) {
    const Tick tick = note_of(task, pair).onset;
    if (moments.empty() || moments.back().tick != tick) {
      moments.push_back({taken_of(task, pair).on, tick, -1});
    }
  }
  for (Moment& moment : moments) {
    const Onset& onset = task.table[task.table.at_or_after(moment.tick)];
    for (std::uint32_t i = onset.first; i < onset.first + onset.count; ++i) {
      const auto index = static_cast<std::size_t>(task.table.notes()[i]);
      const music::Note& note = task.score.notes[index];
      if (note.voice == 0) moment.tune = note.pitch + matched.transpose;
    }
  }
  std::sort(moments.begin(), moments.end(),
            [](const Moment& a, const Moment& b) { return a.at < b.at; });
  return moments;
}

// Looks at every note struck with one of the moments.
class Listener {
 public:
  Listener(const FollowTask& task, const MatchedStretch& matched, TextureEvidence& evidence)
      : task_(task), matched_(matched), evidence_(evidence), moments_(moments_of(task, matched)) {}

  void listen() {
    std::size_t next_pair = 0;
    std::size_t moment = 0;
    std::size_t counted_up = moments_.size();  // the moment whose octave up was counted last
    for (std::size_t n = matched_.stretch.first; n < matched_.stretch.last; ++n) {
      while (moment + 1 < moments_.size() && away(moment + 1, n) <= away(moment, n)) ++moment;
      if (moments_.empty() || away(moment, n) > kWithOnsetNs) continue;
      while (next_pair < matched_.pairs.size() &&
             matched_.pairs[next_pair].taken < static_cast<int>(n)) {
        ++next_pair;
      }
      const bool paired = next_pair < matched_.pairs.size() &&
                          matched_.pairs[next_pair].taken == static_cast<int>(n);
      ++evidence_.played;
      if (!paired) ++evidence_.others;
      const int tune = moments_[moment].tune;
      if (tune < 0) continue;
      const int interval = task_.take.notes[n].pitch - tune;
      if (interval % 12 == 0) ++evidence_.tune_like;
      if (interval % 12 == 0 && interval != 0) ++evidence_.tune_doubled;
      if (interval == 12 && counted_up != moment) {
        ++evidence_.voices[0].octave_up;
        counted_up = moment;
      }
    }
    evidence_.chords += static_cast<int>(moments_.size());
  }

 private:
  [[nodiscard]] double away(std::size_t moment, std::size_t n) const {
    return std::abs(static_cast<double>((moments_[moment].at - task_.take.notes[n].on).count()));
  }

  const FollowTask& task_;
  const MatchedStretch& matched_;
  TextureEvidence& evidence_;
  std::vector<Moment> moments_;
};

}  // namespace

MatchedStretch match_stretch(const FollowTask& task, const Stretch& stretch,
                             const Wearing& wearing) {
  const Instant begin = task.take.notes[stretch.first].on - kRoundTheEdge;
  const Instant end = task.take.notes[stretch.last - 1].on + kRoundTheEdge;
  const TickSpan span = widened(task.table, stretch);
  const MatchTask match{task.score,
                        task.table,
                        task.take,
                        first_from(task.take, begin),
                        first_from(task.take, end),
                        span.begin,
                        span.end,
                        wearing.transpose,
                        wearing.voices,
                        wearing.octave_voices,
                        wearing.tune_shift};
  Matching matching = match_notes(match, stretch.anchors, task.ns_per_tick);
  match_octaves(match, matching);
  return {stretch, wearing.transpose, std::move(matching.pairs)};
}

bool is_the_tune(const FollowTask& task, const MatchedStretch& matched) {
  const auto played = static_cast<double>(matched.stretch.last - matched.stretch.first);
  int exact = 0;
  int tune = 0;
  bool several_onsets = false;
  for (const Pair& pair : matched.pairs) {
    several_onsets =
        several_onsets || note_of(task, pair).onset != note_of(task, matched.pairs.front()).onset;
    if (pair.octave) continue;
    ++exact;
    if (note_of(task, pair).voice == 0) ++tune;
  }
  int onsets = 0;
  int tune_onsets = 0;
  for (int k = matched.stretch.first_onset(); k <= matched.stretch.last_onset(); ++k) {
    ++onsets;
    if (task.table[k].tune) ++tune_onsets;
  }
  const auto heard = static_cast<double>(matched.pairs.size());
  if (matched.pairs.size() < 3) return false;
  // One chord alone is a false start only if it was struck on its own and is the whole chord: a
  // last chord, in another voicing, may look like the first.
  const std::size_t first = matched.stretch.first;
  if (!several_onsets && first > 0) {
    const Nanoseconds gap = task.take.notes[first].on - task.take.notes[first - 1].on;
    const Onset& onset = task.table[matched.stretch.first_onset()];
    return gap >= kRoundTheEdge && exact >= static_cast<int>(onset.count) && heard >= 0.8 * played;
  }
  // Either most notes belong, or the tune itself stands nearly whole above freer notes.
  return heard >= 0.6 * played || (tune >= 0.7 * tune_onsets && heard >= 0.2 * played) ||
         (exact >= onsets && heard >= 0.45 * played);
}

TextureEvidence gather_evidence(const FollowTask& task,
                                const std::vector<MatchedStretch>& stretches) {
  TextureEvidence evidence;
  evidence.voices.resize(static_cast<std::size_t>(std::max(1, task.score.voices)));
  for (const MatchedStretch& matched : stretches) {
    for (int k = matched.stretch.first_onset(); k <= matched.stretch.last_onset(); ++k) {
      const Onset& onset = task.table[k];
      for (std::uint32_t i = onset.first; i < onset.first + onset.count; ++i) {
        const auto index = static_cast<std::size_t>(task.table.notes()[i]);
        ++evidence.voices[static_cast<std::size_t>(task.score.notes[index].voice)].written;
      }
    }
    for (const Pair& pair : matched.pairs) count_pair(task, pair, evidence);
    Listener(task, matched, evidence).listen();
  }
  return evidence;
}

void settle_claims(std::vector<MatchedStretch*>& stretches, std::size_t taken_notes) {
  std::vector<double> off(taken_notes, -1);
  std::vector<int> owner(taken_notes, -1);
  for (std::size_t s = 0; s < stretches.size(); ++s) {
    for (const Pair& pair : stretches[s]->pairs) {
      const auto n = static_cast<std::size_t>(pair.taken);
      const double distance = std::abs(pair.off_ns);
      if (owner[n] < 0 || distance < off[n]) {
        owner[n] = static_cast<int>(s);
        off[n] = distance;
      }
    }
  }
  for (std::size_t s = 0; s < stretches.size(); ++s) {
    std::erase_if(stretches[s]->pairs, [&](const Pair& pair) {
      return owner[static_cast<std::size_t>(pair.taken)] != static_cast<int>(s);
    });
  }
}

}  // namespace loftbeat::follow
