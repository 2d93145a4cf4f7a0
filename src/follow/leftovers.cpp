#include "follow/leftovers.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace loftbeat::follow {
namespace {

constexpr Nanoseconds kWithOnset{150'000'000};
constexpr Nanoseconds kJustHeld{80'000'000};
constexpr Nanoseconds kAtTheEdge{400'000'000};
constexpr Tick kMissedEdge = 6 * kTicksPerQuarter;
constexpr int kAsideNotes = 4;

// Which keys were down when.
class KeyHistory {
 public:
  explicit KeyHistory(const take::CleanTake& take) : take_(take) {
    for (std::size_t n = 0; n < take.notes.size(); ++n) {
      by_pitch_[take.notes[n].pitch].push_back(n);
    }
  }
  // A key of that pitch struck no later than just after `at` and still down well after it.
  [[nodiscard]] bool sounding(int pitch, Instant at) const {
    if (pitch < 0 || pitch > 127) return false;
    const auto& notes = by_pitch_[static_cast<std::size_t>(pitch)];
    auto after = std::upper_bound(notes.begin(), notes.end(), at + kJustHeld,
                                  [&](Instant t, std::size_t n) { return t < take_.notes[n].on; });
    return after != notes.begin() && take_.notes[*std::prev(after)].off >= at + kJustHeld;
  }

 private:
  const take::CleanTake& take_;
  std::array<std::vector<std::size_t>, 128> by_pitch_;
};

bool dressed_freely(const AlignedPass& pass) {
  for (plan::Texture texture : pass.textures) {
    if (texture == plan::Texture::fuller || texture == plan::Texture::unison ||
        texture == plan::Texture::free_harmony) {
      return true;
    }
  }
  return false;
}

// Instants of all struck onsets of a pass, sorted (a pass with restarts is not in score order).
std::vector<Instant> moments(const AlignedPass& pass) {
  std::vector<Instant> at;
  at.reserve(pass.onsets.size());
  for (const StruckOnset& onset : pass.onsets) at.push_back(onset.median);
  std::sort(at.begin(), at.end());
  return at;
}

bool near_a_moment(const std::vector<Instant>& at, Instant t) {
  auto it = std::lower_bound(at.begin(), at.end(), t);
  if (it != at.end() && *it - t <= kWithOnset) return true;
  return it != at.begin() && t - *std::prev(it) <= kWithOnset;
}

void mark_pair(const Pair& pair, std::size_t pass, Alignment& alignment) {
  alignment.notes[static_cast<std::size_t>(pair.taken)] = {
      pair.score, static_cast<int>(pass), pair.octave ? MatchKind::octave : MatchKind::matched};
}

void mark_pairs(const std::vector<BuiltPass>& built, Alignment& alignment) {
  for (std::size_t p = 0; p < built.size(); ++p) {
    for (const Pair& pair : built[p].repeated) mark_pair(pair, p, alignment);
    for (const MatchedStretch& matched : built[p].stretches) {
      for (const Pair& pair : matched.pairs) mark_pair(pair, p, alignment);
    }
  }
}

// How long after its last matched note a pass may still go on: what was left of it at its own
// speed, and a little. The same before its first.
struct Edges {
  Nanoseconds before{0};
  Nanoseconds after{0};
};

Edges edges_of(const AlignedPass& pass) {
  Edges edges{kAtTheEdge, kAtTheEdge};
  if (pass.onsets.size() < 2 || pass.spans.empty()) return edges;
  const StruckOnset& first = pass.onsets.front();
  const StruckOnset& last = pass.onsets.back();
  const double speed = static_cast<double>((last.median - first.median).count()) /
                       static_cast<double>(std::max<Tick>(1, last.tick - first.tick));
  auto lasting = [&](Tick ticks) {
    return Nanoseconds{static_cast<std::int64_t>(std::max(0.0, speed) *
                                                 static_cast<double>(std::max<Tick>(0, ticks)))};
  };
  edges.before += lasting(std::min(first.tick - pass.spans.front().begin, kMissedEdge));
  edges.after += lasting(std::min(pass.spans.back().end - pass.covered.end, kMissedEdge));
  return edges;
}

// Unmatched notes between two passes (either may be none, at the ends of the take).
struct Between {
  AlignedPass* before = nullptr;
  AlignedPass* after = nullptr;
  std::size_t begin = 0;
  std::size_t end = 0;
};

// What follows the last matched note of the earlier pass, unless it lies nearer to the later one.
void take_in_after(const FollowTask& task, Between& between) {
  if (between.before == nullptr) return;
  const Instant last = task.take.notes[between.begin - 1].on;
  const Nanoseconds reach = edges_of(*between.before).after;
  for (; between.begin < between.end; ++between.begin) {
    const Instant at = task.take.notes[between.begin].on;
    if (at - last > reach) return;
    if (between.after != nullptr && task.take.notes[between.end].on - at < at - last) return;
    between.before->last_note = between.begin + 1;
  }
}

// What comes just before the first matched note of the later pass.
void take_in_before(const FollowTask& task, const Between& between) {
  if (between.after == nullptr) return;
  const Instant first = task.take.notes[between.end].on;
  const Nanoseconds reach = edges_of(*between.after).before;
  for (std::size_t n = between.end; n > between.begin; --n) {
    const Instant at = task.take.notes[n - 1].on;
    if (first - at > reach) return;
    between.after->first_note = n - 1;
    between.after->first_onset = at;
  }
}

// Slips just before the first and just after the last matched note of a pass belong to it, each
// to the nearer pass.
void take_in_edges(const FollowTask& task, Alignment& alignment) {
  for (std::size_t p = 0; p <= alignment.passes.size(); ++p) {
    Between between;
    between.before = p > 0 ? &alignment.passes[p - 1] : nullptr;
    between.after = p < alignment.passes.size() ? &alignment.passes[p] : nullptr;
    between.begin = between.before != nullptr ? between.before->last_note : 0;
    between.end = between.after != nullptr ? between.after->first_note : task.take.notes.size();
    if (between.begin >= between.end) continue;
    take_in_after(task, between);
    take_in_before(task, between);
  }
}

void mark_rest(const FollowTask& task, Alignment& alignment) {
  for (std::size_t p = 0; p < alignment.passes.size(); ++p) {
    const AlignedPass& pass = alignment.passes[p];
    const bool freely = dressed_freely(pass);
    const std::vector<Instant> at = freely ? moments(pass) : std::vector<Instant>{};
    for (std::size_t n = pass.first_note; n < pass.last_note; ++n) {
      NoteMatch& match = alignment.notes[n];
      if (match.pass >= 0) continue;
      const bool belongs = freely && near_a_moment(at, task.take.notes[n].on);
      match = {-1, static_cast<int>(p), belongs ? MatchKind::other : MatchKind::extra};
    }
  }
}

// Onsets that the pass went through: between its struck onsets, and up to a bar beyond where the
// first or last chord of what was meant was left out.
struct Walked {
  Tick tick;
  Instant at;
};

bool meant(const AlignedPass& pass, Tick tick) {
  for (const TickSpan& span : pass.spans) {
    if (span.contains(tick)) return true;
  }
  return false;
}

std::vector<Walked> walked_onsets(const FollowTask& task, const AlignedPass& pass) {
  std::vector<Walked> walked;
  std::size_t next = 0;
  const Tick from =
      std::max(pass.spans.front().begin, pass.onsets.front().tick - 4 * kTicksPerQuarter);
  const Tick to = std::min(pass.spans.back().end, pass.onsets.back().tick + 4 * kTicksPerQuarter);
  for (int k = task.table.at_or_after(std::min(from, pass.onsets.front().tick));
       k < task.table.size() && task.table[k].tick < std::max(to, pass.onsets.back().tick + 1);
       ++k) {
    const Tick tick = task.table[k].tick;
    while (next < pass.onsets.size() && pass.onsets[next].tick < tick) ++next;
    bool left_out = !meant(pass, tick);
    for (const Omission& omission : pass.omissions) {
      left_out = left_out || omission.left_out.contains(tick);
    }
    if (left_out) continue;
    if (next < pass.onsets.size() && pass.onsets[next].tick == tick) {
      walked.push_back({tick, pass.onsets[next].median});
    } else if (next > 0 && next < pass.onsets.size()) {
      const StruckOnset& a = pass.onsets[next - 1];
      const StruckOnset& b = pass.onsets[next];
      const double share =
          static_cast<double>(tick - a.tick) / static_cast<double>(b.tick - a.tick);
      const auto gap = static_cast<double>((b.median - a.median).count());
      walked.push_back({tick, a.median + Nanoseconds(static_cast<std::int64_t>(share * gap))});
    } else {
      walked.push_back({tick, next == 0 ? pass.onsets.front().median : pass.onsets.back().median});
    }
  }
  return walked;
}

void tell_unstruck(const FollowTask& task, const KeyHistory& keys, int p,
                   const std::vector<bool>& struck, Alignment& alignment) {
  const AlignedPass& pass = alignment.passes[static_cast<std::size_t>(p)];
  if (pass.onsets.empty() || pass.spans.empty()) return;
  for (const Walked& walked : walked_onsets(task, pass)) {
    const Onset& onset = task.table[task.table.at_or_after(walked.tick)];
    for (std::uint32_t i = onset.first; i < onset.first + onset.count; ++i) {
      const int index = task.table.notes()[i];
      const music::Note& note = task.score.notes[static_cast<std::size_t>(index)];
      const auto voice = static_cast<std::size_t>(note.voice);
      if (struck[static_cast<std::size_t>(index)]) continue;
      if (voice < pass.voices_sounded.size() && !pass.voices_sounded[voice]) continue;
      if (keys.sounding(note.pitch + pass.transpose_semitones, walked.at)) {
        alignment.held.push_back({p, index});
      } else {
        alignment.missed.push_back({p, index});
      }
    }
  }
}

void fill_releases(const FollowTask& task, Alignment& alignment) {
  for (std::size_t p = 0; p < alignment.passes.size(); ++p) {
    AlignedPass& pass = alignment.passes[p];
    pass.last_release = pass.last_sound = pass.first_onset;
    for (std::size_t n = pass.first_note; n < pass.last_note; ++n) {
      if (alignment.notes[n].pass != static_cast<int>(p)) continue;
      pass.last_release = std::max(pass.last_release, task.take.notes[n].off);
      pass.last_sound = std::max(pass.last_sound, task.take.notes[n].sound_off);
    }
  }
}

}  // namespace

void tell_leftovers(const FollowTask& task, const std::vector<BuiltPass>& built,
                    Alignment& alignment) {
  alignment.notes.assign(task.take.notes.size(), {});
  mark_pairs(built, alignment);
  take_in_edges(task, alignment);
  mark_rest(task, alignment);
  const KeyHistory keys(task.take);
  for (std::size_t p = 0; p < built.size(); ++p) {
    std::vector<bool> struck(task.score.notes.size(), false);
    for (const MatchedStretch& matched : built[p].stretches) {
      for (const Pair& pair : matched.pairs) struck[static_cast<std::size_t>(pair.score)] = true;
    }
    tell_unstruck(task, keys, static_cast<int>(p), struck, alignment);
  }
  fill_releases(task, alignment);
}

void tell_asides(const FollowTask& task, Alignment& alignment) {
  Aside aside;
  int last_pass = -1;
  auto close = [&]() {
    if (aside.notes >= kAsideNotes) alignment.asides.push_back(aside);
    aside = {};
  };
  for (std::size_t n = 0; n < alignment.notes.size(); ++n) {
    const int pass = alignment.notes[n].pass;
    if (pass >= 0) {
      close();
      last_pass = std::max(last_pass, pass);
      continue;
    }
    const take::TakenNote& note = task.take.notes[n];
    if (aside.notes == 0) aside = {last_pass, false, note.on, note.off, 0};
    ++aside.notes;
    aside.end = std::max(aside.end, note.off);
  }
  close();
  for (Aside& found : alignment.asides) {
    const auto next = static_cast<std::size_t>(found.after_pass + 1);
    found.amen =
        found.after_pass >= 0 && (next >= alignment.passes.size() ||
                                  alignment.passes[next].run != alignment.passes[next - 1].run);
  }
}

}  // namespace loftbeat::follow
