#include "simulate/reckon.h"

#include <algorithm>
#include <map>
#include <set>

namespace loftbeat::simulate {

std::string to_string(NoteKind kind) {
  switch (kind) {
    case NoteKind::right: return "right";
    case NoteKind::octave: return "octave";
    case NoteKind::wrong: return "wrong";
    case NoteKind::extra: return "extra";
    case NoteKind::doubled: return "doubled";
    case NoteKind::filler: return "filler";
    case NoteKind::ornament: return "ornament";
  }
  return "note";
}

namespace {

// A place of leg `leg` that is played again after a restart.
bool replayed(const Act& act, std::size_t leg, Tick tick) {
  for (std::size_t later = leg + 1; later < act.legs.size(); ++later) {
    if (act.legs[later].goes_back && act.legs[later].span.begin <= tick) return true;
  }
  return false;
}

TrueNote true_note(const Act& act, const Press& press) {
  const Stroke& stroke = press.stroke;
  TrueNote note;
  note.pass = act.truth_pass;
  note.score = stroke.score;
  note.meant = stroke.meant;
  note.kind = stroke.kind;
  note.tick = stroke.tick;
  note.pitch = stroke.pitch;
  note.voice = stroke.voice;
  note.channel = press.channel;
  note.velocity = stroke.velocity;
  note.superseded = replayed(act, stroke.leg, stroke.tick);
  note.corrected = stroke.corrected;
  note.intended = instant_from_seconds(stroke.intended);
  note.on = note.stamped_on = instant_from_seconds(stroke.on);
  note.off = note.stamped_off = instant_from_seconds(stroke.off);
  return note;
}

Instant median_of(std::vector<Instant> at) {
  std::sort(at.begin(), at.end());
  const std::size_t half = at.size() / 2;
  if (at.size() % 2 == 1) return at[half];
  return at[half - 1] + (at[half] - at[half - 1]) / 2;
}

class PassReckoner {
 public:
  PassReckoner(const Stage& stage, const PlayedAct& played, std::vector<const TrueNote*> notes)
      : stage_(stage), played_(played), notes_(std::move(notes)) {}

  TruePass pass() const {
    const Act& act = played_.act;
    TruePass pass;
    pass.label = act.label;
    pass.kind = act.kind;
    pass.run = act.run;
    pass.route_pass = act.planned ? act.source : -1;
    pass.spans = act.meant;
    pass.covered = covered();
    pass.complete =
        pass.covered.begin <= act.meant.front().begin && pass.covered.end >= act.meant.back().end;
    pass.textures = act.textures;
    pass.transpose_semitones = act.transpose;
    pass.voices = played_.voices;
    pass.tempo_bpm = played_.times.mean_bpm;
    add_onsets(pass);
    add_restarts(pass);
    add_corrections(pass);
    add_ends(pass);
    return pass;
  }

  void absences(Truth& truth) const {
    std::set<int> struck;
    for (const TrueNote* note : notes_) {
      if (note->score >= 0 && !note->superseded) struck.insert(note->score);
    }
    const std::set<int> held(played_.held.begin(), played_.held.end());
    for (const int score : meant_notes()) {
      if (struck.count(score) != 0) continue;
      auto& list = held.count(score) != 0 ? truth.held : truth.missed;
      list.push_back({played_.act.truth_pass, score});
    }
  }

 private:
  [[nodiscard]] TickSpan covered() const {
    TickSpan all = played_.act.legs.front().span;
    for (const Leg& leg : played_.act.legs) {
      all.begin = std::min(all.begin, leg.span.begin);
      all.end = std::max(all.end, leg.span.end);
    }
    return all;
  }

  // Score notes of the voices meant to sound, at the places reached.
  [[nodiscard]] std::set<int> meant_notes() const {
    std::set<int> meant;
    const auto& notes = stage_.piece.score.notes;
    for (const Leg& leg : played_.act.legs) {
      auto note = std::lower_bound(notes.begin(), notes.end(), leg.span.begin,
                                   [](const music::Note& n, Tick t) { return n.onset < t; });
      for (; note != notes.end() && note->onset < leg.span.end; ++note) {
        if (played_.voices[static_cast<std::size_t>(note->voice)]) {
          meant.insert(static_cast<int>(note - notes.begin()));
        }
      }
    }
    return meant;
  }

  void add_onsets(TruePass& pass) const {
    std::map<Tick, std::vector<const TrueNote*>> struck;
    for (const TrueNote* note : notes_) {
      if (note->score >= 0 && !note->superseded) struck[note->tick].push_back(note);
    }
    std::map<Tick, int> expected;
    for (const int score : meant_notes()) {
      ++expected[stage_.piece.score.notes[static_cast<std::size_t>(score)].onset];
    }
    for (const auto& [tick, chord] : struck) {
      std::vector<Instant> at;
      for (const TrueNote* note : chord) at.push_back(note->on);
      TrueOnset onset;
      onset.tick = tick;
      onset.first = *std::min_element(at.begin(), at.end());
      onset.median = median_of(at);
      onset.intended = chord.back()->intended;
      onset.count = static_cast<int>(chord.size());
      onset.expected = expected[tick];
      pass.onsets.push_back(onset);
    }
  }

  [[nodiscard]] const TrueNote* first_at(Tick tick, bool superseded) const {
    for (const TrueNote* note : notes_) {
      if (note->tick == tick && note->superseded == superseded) return note;
    }
    return nullptr;
  }

  void add_restarts(TruePass& pass) const {
    for (std::size_t leg = 1; leg < played_.act.legs.size(); ++leg) {
      if (!played_.act.legs[leg].goes_back) continue;
      TrueRestart restart;
      restart.to = played_.act.legs[leg].span.begin;
      restart.false_start = played_.act.legs[leg].false_start;
      for (const TrueNote* note : notes_) {
        const bool before = note->superseded && note->tick < played_.act.legs[leg - 1].span.end;
        if (before) restart.from = std::max(restart.from, note->tick);
      }
      const TrueNote* again = first_at(restart.to, false);
      const TrueNote* before = first_at(restart.to, true);
      if (again != nullptr) restart.at = again->on;
      if (again != nullptr && before != nullptr) restart.lost = again->on - before->on;
      pass.restarts.push_back(restart);
    }
  }

  void add_corrections(TruePass& pass) const {
    for (const TrueNote* right : notes_) {
      if (!right->corrected) continue;
      TrueCorrection correction;
      correction.tick = right->tick;
      correction.right_pitch = right->pitch;
      correction.at = right->on;
      for (const TrueNote* wrong : notes_) {
        if (wrong->kind == NoteKind::wrong && wrong->meant == right->score) {
          correction.wrong_pitch = wrong->pitch;
        }
      }
      for (const ActCorrection& planted : played_.act.corrections) {
        if (planted.tick == right->tick) correction.cost_beats = planted.cost_beats;
      }
      pass.corrections.push_back(correction);
    }
  }

  void add_ends(TruePass& pass) const {
    if (notes_.empty()) return;
    pass.first_onset = notes_.front()->on;
    pass.last_release = notes_.front()->off;
    for (const TrueNote* note : notes_) {
      pass.first_onset = std::min(pass.first_onset, note->on);
      pass.last_release = std::max(pass.last_release, note->off);
    }
    pass.last_onset = pass.onsets.empty() ? instant_from_seconds(played_.times.last_onset_s)
                                          : pass.onsets.back().median;
  }

  const Stage& stage_;
  const PlayedAct& played_;
  std::vector<const TrueNote*> notes_;
};

TrueJoin join_between(const TruePass& before, const TruePass& after, const PlayedAct& played) {
  const Gap& gap = played.act.after;
  TrueJoin join;
  join.last_onset = before.last_onset;
  join.last_release = before.last_release;
  join.next_onset = after.first_onset;
  join.silence_s = seconds(join.next_onset - join.last_release);
  join.beat_s = played.times.end_beat_s;
  join.hold_beats = seconds(join.last_release - join.last_onset) / join.beat_s;
  join.lift_beats = join.silence_s / join.beat_s;
  join.span_beats = seconds(join.next_onset - join.last_onset) / join.beat_s;
  join.planned = gap.planned;
  join.planned_span_beats = gap.planned_span_beats;
  join.count_slip_beats = gap.count_slip;
  join.phase_slip_beats = gap.phase_slip;
  return join;
}

void add_joins(const std::vector<PlayedAct>& acts, Truth& truth) {
  const PlayedAct* before = nullptr;
  bool silent = false;
  bool improvised = false;
  for (const PlayedAct& played : acts) {
    if (played.act.truth_pass < 0) {
      (played.act.sounds ? improvised : silent) = true;
      continue;
    }
    if (before != nullptr && before->act.run == played.act.run) {
      const auto a = static_cast<std::size_t>(before->act.truth_pass);
      const auto b = static_cast<std::size_t>(played.act.truth_pass);
      TrueJoin join = join_between(truth.passes[a], truth.passes[b], *before);
      join.before = static_cast<int>(a);
      join.after = static_cast<int>(b);
      join.over_unaccompanied = silent;
      join.with_interlude = improvised;
      truth.joins.push_back(join);
    }
    before = &played;
    silent = improvised = false;
  }
}

void add_aside(const Act& act, int after_pass, const std::vector<const TrueNote*>& notes,
               Truth& truth) {
  if (notes.empty()) return;
  TrueAside aside{after_pass, act.kind == plan::PassKind::amen, notes.front()->on,
                  notes.front()->off, static_cast<int>(notes.size())};
  for (const TrueNote* note : notes) {
    aside.begin = std::min(aside.begin, note->on);
    aside.end = std::max(aside.end, note->off);
  }
  truth.asides.push_back(aside);
}

}  // namespace

Truth reckon(const Stage& stage, const std::vector<PlayedAct>& acts,
             const std::vector<Press>& presses) {
  Truth truth;
  for (const Press& press : presses) truth.notes.push_back(true_note(acts[press.act].act, press));
  std::vector<std::vector<const TrueNote*>> by_act(acts.size());
  for (std::size_t i = 0; i < presses.size(); ++i) {
    by_act[presses[i].act].push_back(&truth.notes[i]);
  }
  int last_pass = -1;
  for (std::size_t i = 0; i < acts.size(); ++i) {
    if (acts[i].act.truth_pass >= 0) last_pass = acts[i].act.truth_pass;
    if (acts[i].act.truth_pass < 0) {
      add_aside(acts[i].act, last_pass, by_act[i], truth);
      continue;
    }
    const PassReckoner reckoner(stage, acts[i], by_act[i]);
    truth.passes.push_back(reckoner.pass());
    reckoner.absences(truth);
  }
  add_joins(acts, truth);
  return truth;
}

}  // namespace loftbeat::simulate
