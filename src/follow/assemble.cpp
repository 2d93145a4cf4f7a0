#include "follow/assemble.h"

#include <algorithm>

namespace loftbeat::follow {
namespace {

Tick onset_tick(const FollowTask& task, const Pair& pair) {
  return task.score.notes[static_cast<std::size_t>(pair.score)].onset;
}
Instant played_at(const FollowTask& task, const Pair& pair) {
  return task.take.notes[static_cast<std::size_t>(pair.taken)].on;
}

std::uint64_t voice_set(const std::vector<bool>& sounded) {
  std::uint64_t set = 0;
  for (std::size_t v = 0; v < sounded.size() && v < 64; ++v) {
    if (sounded[v]) set |= std::uint64_t{1} << v;
  }
  return set;
}

bool has(const std::vector<plan::Texture>& textures, plan::Texture texture) {
  return std::find(textures.begin(), textures.end(), texture) != textures.end();
}

TickSpan struck_span(const FollowTask& task, const MatchedStretch& matched) {
  TickSpan span{task.table[matched.stretch.first_onset()].tick,
                task.table[matched.stretch.last_onset()].tick};
  for (const Pair& pair : matched.pairs) {
    span.begin = std::min(span.begin, onset_tick(task, pair));
    span.end = std::max(span.end, onset_tick(task, pair));
  }
  return span;  // closed: both ends are onsets
}

// First time that `tick` was played in the stretches before `index`.
Instant first_played(const FollowTask& task, const std::vector<MatchedStretch>& stretches,
                     std::size_t index, Tick tick, Instant otherwise) {
  for (std::size_t i = 0; i < index; ++i) {
    for (const Pair& pair : stretches[i].pairs) {
      if (onset_tick(task, pair) >= tick) return played_at(task, pair);
    }
  }
  return otherwise;
}

// Left out as the route has it: between two of its spans.
bool planned_gap(const plan::Route& route, int route_pass, TickSpan left_out) {
  if (route_pass < 0) return false;
  const auto& spans = route.passes[static_cast<std::size_t>(route_pass)].spans;
  for (std::size_t i = 1; i < spans.size(); ++i) {
    if (left_out.begin >= spans[i - 1].end && left_out.end <= spans[i].begin) return true;
  }
  return false;
}

// The route itself goes back there: a line that comes twice.
bool planned_repeat(const plan::Route& route, int route_pass, Tick to) {
  if (route_pass < 0) return false;
  const auto& spans = route.passes[static_cast<std::size_t>(route_pass)].spans;
  for (std::size_t i = 1; i < spans.size(); ++i) {
    if (spans[i].begin < spans[i - 1].end && spans[i].contains(to) &&
        to - spans[i].begin < kTicksPerQuarter) {
      return true;
    }
  }
  return false;
}

// Where stretches meet: back is a restart, ahead leaves something out.
void tell_jumps(const FollowTask& task, const plan::Route& route, const FoundPass& found,
                BuiltPass& built) {
  Tick furthest = 0;
  for (std::size_t i = 0; i < built.stretches.size(); ++i) {
    const MatchedStretch& matched = built.stretches[i];
    const TickSpan span = struck_span(task, matched);
    const Instant at = matched.pairs.empty() ? task.take.notes[matched.stretch.first].on
                                             : played_at(task, matched.pairs.front());
    if (i > 0 && furthest - span.begin >= kTicksPerQuarter) {
      const Instant before = first_played(task, built.stretches, i, span.begin, at);
      const bool false_start = std::find(found.false_starts.begin(), found.false_starts.end(),
                                         i - 1) != found.false_starts.end();
      const bool planned = planned_repeat(route, built.pass.route_pass, span.begin);
      built.pass.restarts.push_back(
          {furthest, span.begin, at, at - before, false_start && !planned, planned});
    } else if (i > 0) {
      const int next = task.table.at_or_after(furthest + 1);
      if (next < task.table.size() && task.table[next].tick < span.begin) {
        const TickSpan left_out{task.table[next].tick, span.begin};
        if (!planned_gap(route, built.pass.route_pass, left_out)) {
          built.pass.omissions.push_back({left_out, at});
        }
      }
    }
    furthest = std::max(furthest, span.end);
  }
}

bool repeats_as_planned(const BuiltPass& built, Tick from) {
  for (const Restart& restart : built.pass.restarts) {
    if (restart.planned && restart.to == from) return true;
  }
  return false;
}

// Replayed score times keep their last playing: earlier pairs there fall away, or are kept apart
// where the route has it so.
void drop_replayed(const FollowTask& task, BuiltPass& built) {
  std::vector<MatchedStretch>& stretches = built.stretches;
  for (std::size_t i = 0; i < stretches.size(); ++i) {
    for (std::size_t later = i + 1; later < stretches.size(); ++later) {
      if (stretches[later].pairs.empty()) continue;
      const TickSpan again = struck_span(task, stretches[later]);
      const bool planned = repeats_as_planned(built, again.begin);
      std::erase_if(stretches[i].pairs, [&](const Pair& pair) {
        const Tick tick = onset_tick(task, pair);
        const bool replayed = again.begin <= tick && tick <= again.end;
        if (replayed && planned) built.repeated.push_back(pair);
        return replayed;
      });
    }
  }
}

Instant median_instant(std::vector<Instant>& times) {
  std::sort(times.begin(), times.end());
  const std::size_t half = times.size() / 2;
  if (times.size() % 2 == 1) return times[half];
  return times[half - 1] + (times[half] - times[half - 1]) / 2;
}

std::vector<Pair> pairs_by_tick(const FollowTask& task, const BuiltPass& built) {
  std::vector<Pair> pairs;
  for (const MatchedStretch& matched : built.stretches) {
    pairs.insert(pairs.end(), matched.pairs.begin(), matched.pairs.end());
  }
  std::stable_sort(pairs.begin(), pairs.end(), [&](const Pair& a, const Pair& b) {
    return onset_tick(task, a) < onset_tick(task, b);
  });
  return pairs;
}

int expected_at(const FollowTask& task, const AlignedPass& pass, Tick tick) {
  const int k = task.table.at_or_after(tick);
  const Onset& onset = task.table[k];
  int expected = 0;
  for (std::uint32_t i = onset.first; i < onset.first + onset.count; ++i) {
    const auto index = static_cast<std::size_t>(task.table.notes()[i]);
    const auto voice = static_cast<std::size_t>(task.score.notes[index].voice);
    if (voice >= pass.voices_sounded.size() || pass.voices_sounded[voice]) ++expected;
  }
  return expected;
}

void fill_onsets(const FollowTask& task, BuiltPass& built) {
  built.pass.onsets.clear();
  const std::vector<Pair> pairs = pairs_by_tick(task, built);
  std::vector<Instant> times;
  for (std::size_t i = 0; i < pairs.size();) {
    const Tick tick = onset_tick(task, pairs[i]);
    times.clear();
    for (; i < pairs.size() && onset_tick(task, pairs[i]) == tick; ++i) {
      times.push_back(played_at(task, pairs[i]));
    }
    const auto count = static_cast<int>(times.size());
    const Instant median = median_instant(times);
    built.pass.onsets.push_back(
        {tick, times.front(), median, count, expected_at(task, built.pass, tick)});
  }
}

// A play-over that went well beyond what was planned of it: it is taken as it was played.
bool plays_on(const AlignedPass& pass) {
  return pass.kind == plan::PassKind::play_over && !pass.onsets.empty() &&
         pass.onsets.back().tick > pass.spans.back().end + 2 * kTicksPerQuarter;
}

// What was meant to be played: the route's spans, or the whole tune, or as much of it as was
// played if that was only phrases of it.
void fill_spans(const FollowTask& task, const plan::Route& route, BuiltPass& built) {
  AlignedPass& pass = built.pass;
  if (pass.route_pass >= 0) {
    pass.spans = route.passes[static_cast<std::size_t>(pass.route_pass)].spans;
    if (!pass.spans.empty() && !plays_on(pass)) return;
  }
  pass.spans = {{0, task.score.length}};
  if (pass.kind == plan::PassKind::play_over && !pass.onsets.empty()) {
    const int after = task.table.at_or_after(pass.onsets.back().tick + 1);
    const Tick end = after < task.table.size() ? task.table[after].tick : task.score.length;
    pass.spans = {{pass.onsets.front().tick, end}};
  }
}

// From the first note that is the score's to the last, false starts and replayed notes included.
void fill_note_range(BuiltPass& built) {
  AlignedPass& pass = built.pass;
  pass.first_note = built.stretches.front().stretch.first;
  pass.last_note = built.stretches.back().stretch.last;
  bool any = false;
  for (const MatchedStretch& stretch : built.stretches) {
    for (const Pair& pair : stretch.pairs) {
      const auto n = static_cast<std::size_t>(pair.taken);
      pass.first_note = any ? std::min(pass.first_note, n) : n;
      pass.last_note = any ? std::max(pass.last_note, n + 1) : n + 1;
      any = true;
    }
  }
}

Tick end_of_onset(const FollowTask& task, Tick tick) {
  const int next = task.table.at_or_after(tick + 1);
  return next < task.table.size() ? task.table[next].tick : task.score.length;
}

void fill_coverage(const FollowTask& task, BuiltPass& built) {
  AlignedPass& pass = built.pass;
  if (pass.onsets.empty() || pass.spans.empty()) return;
  pass.covered = {pass.onsets.front().tick, end_of_onset(task, pass.onsets.back().tick)};
  Tick covered = 0;
  for (const MatchedStretch& matched : built.stretches) {
    if (matched.pairs.empty()) continue;
    Tick from = task.score.length;
    Tick to = 0;
    for (const Pair& pair : matched.pairs) {
      from = std::min(from, onset_tick(task, pair));
      to = std::max(to, end_of_onset(task, onset_tick(task, pair)));
    }
    covered += to - from;
  }
  pass.quarters_covered = quarters(covered);
  const int first = task.table.at_or_after(pass.spans.front().begin);
  const int last = task.table.at_or_after(pass.spans.back().end) - 1;
  pass.complete = first < task.table.size() && last >= 0 &&
                  pass.onsets.front().tick <= task.table[first].tick &&
                  pass.onsets.back().tick >= task.table[last].tick;
}

void drop_octaves(const FollowTask& task, const std::vector<bool>& octaves,
                  MatchedStretch& matched) {
  std::erase_if(matched.pairs, [&](const Pair& pair) {
    const auto voice =
        static_cast<std::size_t>(task.score.notes[static_cast<std::size_t>(pair.score)].voice);
    return pair.octave && voice < octaves.size() && !octaves[voice];
  });
}

// Under some textures other notes must not be taken for the score's by chance: under the tune
// alone, nothing else is meant; under a tune an octave up, its written pitch is a filler.
void rematch(const FollowTask& task, const Dress& dress, std::vector<MatchedStretch>& stretches) {
  Wearing wearing;
  if (has(dress.textures, plan::Texture::unison)) {
    wearing.voices = voice_set(dress.voices_sounded);
  }
  if (has(dress.textures, plan::Texture::no_pedal)) {
    wearing.voices = ~(std::uint64_t{1} << (dress.voices_sounded.size() - 1));
  }
  if (has(dress.textures, plan::Texture::tune_up_octave)) wearing.tune_shift = 12;
  const bool as_before = wearing.voices == Wearing{}.voices && wearing.tune_shift == 0;
  wearing.octave_voices = voice_set(dress.octaves);
  for (MatchedStretch& stretch : stretches) {
    if (as_before) {
      drop_octaves(task, dress.octaves, stretch);
    } else {
      wearing.transpose = stretch.transpose;
      stretch = match_stretch(task, stretch.stretch, wearing);
    }
  }
}

}  // namespace

BuiltPass dress_pass(const FollowTask& task, const FoundPass& found, const Label& label,
                     const std::vector<MatchedStretch>& matched, const std::vector<int>& layers) {
  BuiltPass built;
  for (const Stretch& stretch : found.stretches) built.stretches.push_back(matched[stretch.id]);
  Dress dress = judge_texture(gather_evidence(task, built.stretches));
  rematch(task, dress, built.stretches);
  AlignedPass& pass = built.pass;
  pass.label = label.name;
  pass.kind = label.kind;
  pass.route_pass = label.route_pass;
  pass.run = found.run;
  pass.textures = std::move(dress.textures);
  pass.voices_sounded = std::move(dress.voices_sounded);
  pass.transpose_semitones = layers[static_cast<std::size_t>(found.stretches.back().layer)];
  return built;
}

void finish_pass(const FollowTask& task, const plan::Route& route, const FoundPass& found,
                 BuiltPass& built) {
  tell_jumps(task, route, found, built);
  fill_note_range(built);
  drop_replayed(task, built);
  fill_onsets(task, built);
  fill_spans(task, route, built);
  fill_coverage(task, built);
  AlignedPass& pass = built.pass;
  pass.first_onset = task.take.notes[pass.first_note].on;
  pass.last_onset = pass.onsets.empty() ? pass.first_onset : pass.onsets.back().median;
}

}  // namespace loftbeat::follow
