#include "simulate/truth_alignment.h"

#include <algorithm>
#include <cstdlib>

namespace loftbeat::simulate {
namespace {

constexpr Nanoseconds kFurthest = std::chrono::milliseconds(30);

using follow::MatchKind;

MatchKind match_kind(const TrueNote& note) {
  if (note.superseded || note.pass < 0) return MatchKind::extra;
  switch (note.kind) {
    case NoteKind::right: return MatchKind::matched;
    case NoteKind::octave: return MatchKind::octave;
    case NoteKind::filler: return MatchKind::other;
    default: return MatchKind::extra;
  }
}

class Aligner {
 public:
  explicit Aligner(const TruthQuestion& question)
      : question_(question), clean_of_(question.truth.notes.size(), -1) {}

  follow::Alignment align() {
    match();
    label_notes();
    for (std::size_t i = 0; i < question_.truth.passes.size(); ++i) add_pass(static_cast<int>(i));
    add_absences();
    add_asides();
    found_.label_source = "plan";
    return std::move(found_);
  }

 private:
  // Nearest clean note of the same key that is still free.
  void match() {
    const auto& notes = question_.take.notes;
    std::vector<bool> used(notes.size(), false);
    for (std::size_t t = 0; t < question_.truth.notes.size(); ++t) {
      const TrueNote& note = question_.truth.notes[t];
      const Instant from = note.stamped_on - kFurthest;
      auto clean = std::lower_bound(notes.begin(), notes.end(), from,
                                    [](const take::TakenNote& n, Instant at) { return n.on < at; });
      Nanoseconds nearest = kFurthest;
      for (; clean != notes.end() && clean->on <= note.stamped_on + kFurthest; ++clean) {
        const auto index = clean - notes.begin();
        const Nanoseconds apart = std::chrono::abs(clean->on - note.stamped_on);
        if (clean->pitch != note.pitch || used[static_cast<std::size_t>(index)]) continue;
        if (apart > nearest) continue;
        nearest = apart;
        clean_of_[t] = static_cast<int>(index);
      }
      if (clean_of_[t] >= 0) used[static_cast<std::size_t>(clean_of_[t])] = true;
    }
  }

  void label_notes() {
    found_.notes.assign(question_.take.notes.size(), follow::NoteMatch{});
    std::size_t inside = 0;
    for (std::size_t t = 0; t < clean_of_.size(); ++t) {
      if (clean_of_[t] < 0) continue;
      const TrueNote& note = question_.truth.notes[t];
      follow::NoteMatch& match = found_.notes[static_cast<std::size_t>(clean_of_[t])];
      match.kind = match_kind(note);
      match.pass = note.pass;
      const bool scored = match.kind == MatchKind::matched || match.kind == MatchKind::octave;
      match.score = scored ? note.score : -1;
      if (note.pass >= 0) ++inside;
    }
    if (!found_.notes.empty()) {
      found_.matched_share = static_cast<double>(inside) / static_cast<double>(found_.notes.size());
    }
  }

  void add_pass(int index) {
    const TruePass& from = question_.truth.passes[static_cast<std::size_t>(index)];
    follow::AlignedPass pass;
    pass.label = from.label;
    pass.kind = from.kind;
    pass.run = from.run;
    pass.route_pass = from.route_pass;
    pass.covered = from.covered;
    pass.spans = from.spans;
    pass.quarters_covered = quarters(from.covered.length());
    pass.complete = from.complete;
    pass.transpose_semitones = from.transpose_semitones;
    pass.textures = from.textures;
    pass.voices_sounded = from.voices;
    for (const TrueRestart& r : from.restarts) {
      pass.restarts.push_back({r.from, r.to, r.at, r.lost, r.false_start});
    }
    for (const TrueCorrection& c : from.corrections) {
      pass.corrections.push_back({c.tick, c.wrong_pitch, c.right_pitch, c.at,
                                  span_from_seconds(c.cost_beats * beat_seconds(index))});
    }
    for (const TrueOnset& onset : from.onsets) add_onset(index, onset, pass);
    add_range(index, pass);
    found_.passes.push_back(std::move(pass));
  }

  [[nodiscard]] double beat_seconds(int index) const {
    const double bpm = question_.truth.passes[static_cast<std::size_t>(index)].tempo_bpm;
    return bpm > 0 ? 60 / bpm : 0;
  }

  // From the clean notes themselves, as a follower would have them.
  void add_onset(int pass_index, const TrueOnset& onset, follow::AlignedPass& pass) const {
    std::vector<Instant> at;
    const auto begin =
        std::lower_bound(question_.take.notes.begin(), question_.take.notes.end(),
                         onset.first - std::chrono::milliseconds(200),
                         [](const take::TakenNote& n, Instant when) { return n.on < when; });
    const Instant latest = onset.median + std::chrono::seconds(2);
    for (auto note = begin; note != question_.take.notes.end() && note->on < latest; ++note) {
      const follow::NoteMatch& match =
          found_.notes[static_cast<std::size_t>(note - question_.take.notes.begin())];
      if (match.pass != pass_index || match.score < 0) continue;
      const auto score = static_cast<std::size_t>(match.score);
      if (question_.score.notes[score].onset == onset.tick) at.push_back(note->on);
    }
    if (at.empty()) return;
    std::sort(at.begin(), at.end());
    const std::size_t half = at.size() / 2;
    const Instant median =
        at.size() % 2 == 1 ? at[half] : at[half - 1] + (at[half] - at[half - 1]) / 2;
    pass.onsets.push_back(
        {onset.tick, at.front(), median, static_cast<int>(at.size()), onset.expected});
  }

  void add_range(int index, follow::AlignedPass& pass) const {
    bool any = false;
    for (std::size_t i = 0; i < found_.notes.size(); ++i) {
      if (found_.notes[i].pass != index) continue;
      const take::TakenNote& note = question_.take.notes[i];
      if (!any) {
        pass.first_note = i;
        pass.first_onset = note.on;
        pass.last_release = note.off;
        pass.last_sound = note.sound_off;
      }
      any = true;
      pass.last_note = i;
      pass.last_release = std::max(pass.last_release, note.off);
      pass.last_sound = std::max(pass.last_sound, note.sound_off);
    }
    if (!pass.onsets.empty()) pass.last_onset = pass.onsets.back().median;
  }

  void add_absences() {
    for (const TrueAbsence& gone : question_.truth.missed) {
      found_.missed.push_back({gone.pass, gone.score});
    }
    for (const TrueAbsence& gone : question_.truth.held) {
      found_.held.push_back({gone.pass, gone.score});
    }
    // Unisons of two divisions that hygiene made one.
    for (std::size_t t = 0; t < clean_of_.size(); ++t) {
      const TrueNote& note = question_.truth.notes[t];
      if (clean_of_[t] < 0 && note.score >= 0 && !note.superseded) {
        found_.held.push_back({note.pass, note.score});
      }
    }
  }

  void add_asides() {
    for (const TrueAside& aside : question_.truth.asides) {
      found_.asides.push_back({aside.after_pass, aside.amen, aside.begin, aside.end, aside.notes});
    }
  }

  const TruthQuestion& question_;
  std::vector<int> clean_of_;  // by true note
  follow::Alignment found_;
};

}  // namespace

follow::Alignment truth_alignment(const TruthQuestion& question) {
  return Aligner(question).align();
}

}  // namespace loftbeat::simulate
