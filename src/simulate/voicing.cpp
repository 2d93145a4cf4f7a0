#include "simulate/voicing.h"

#include <algorithm>
#include <string>

namespace loftbeat::simulate {
namespace {

using plan::Texture;

constexpr int kFillerLine = 10;  // first line of added notes; each has a line of its own

bool has(const Act& act, Texture texture) {
  return std::find(act.textures.begin(), act.textures.end(), texture) != act.textures.end();
}

Stroke filler(int pitch, Tick tick, Tick end, int line) {
  Stroke stroke;
  stroke.kind = NoteKind::filler;
  stroke.pitch = pitch;
  stroke.tick = tick;
  stroke.end = end;
  stroke.line = line;
  stroke.limb = pitch < 60 ? Limb::left_hand : Limb::right_hand;
  return stroke;
}

class Voicing {
 public:
  Voicing(const Stage& stage, PlayedAct& played)
      : stage_(stage),
        played_(played),
        act_(played.act),
        random_(stream_for(stage, played, "voicing")),
        tonic_(tonic_of(stage.piece.score) + played.act.transpose) {}

  void run() {
    choose_voices();
    if (act_.improvised_beats > 0) improvise();
    for (leg_ = 0; leg_ < act_.legs.size(); ++leg_) {
      write_score_notes(act_.legs[leg_].span);
      if (has(act_, Texture::free_harmony)) free_harmony();
      if (has(act_, Texture::unison)) double_tune();
      if (has(act_, Texture::fuller)) make_fuller();
    }
    auto& strokes = played_.strokes;
    std::stable_sort(strokes.begin(), strokes.end(), [](const Stroke& a, const Stroke& b) {
      return a.leg != b.leg ? a.leg < b.leg : a.tick < b.tick;
    });
  }

 private:
  void choose_voices() {
    const auto count = static_cast<std::size_t>(stage_.piece.score.voices);
    std::vector<bool>& voices = played_.voices;
    voices.assign(count, true);
    if (has(act_, Texture::unison) || has(act_, Texture::free_harmony)) {
      voices.assign(count, false);
      if (count > 0) voices[0] = true;
    }
    if (has(act_, Texture::no_pedal) && count > 1 &&
        stage_.player.bass_without_pedal == BassWithoutPedal::left_out) {
      voices[count - 1] = false;
    }
    if (act_.only_voices) {
      voices.assign(count, false);
      for (const int voice : *act_.only_voices) {
        if (voice >= 0 && static_cast<std::size_t>(voice) < count) {
          voices[static_cast<std::size_t>(voice)] = true;
        }
      }
    }
  }

  [[nodiscard]] Limb limb_of(int voice) const {
    const int voices = stage_.piece.score.voices;
    if (voices > 2 && voice == voices - 1) {
      return has(act_, Texture::no_pedal) ? Limb::left_hand : Limb::feet;
    }
    return voice * 2 < voices - 1 || voice == 0 ? Limb::right_hand : Limb::left_hand;
  }

  void write_score_notes(const TickSpan& span) {
    const auto& notes = stage_.piece.score.notes;
    const bool tune_up = has(act_, Texture::tune_up_octave);
    auto note = std::lower_bound(notes.begin(), notes.end(), span.begin,
                                 [](const music::Note& n, Tick t) { return n.onset < t; });
    leg_begin_ = played_.strokes.size();
    for (; note != notes.end() && note->onset < span.end; ++note) {
      if (!played_.voices[static_cast<std::size_t>(note->voice)]) continue;
      Stroke stroke;
      stroke.score = static_cast<int>(note - notes.begin());
      stroke.tick = note->onset;
      stroke.end = std::min(note->onset + note->length, span.end);
      stroke.leg = leg_;
      stroke.voice = stroke.line = note->voice;
      stroke.limb = limb_of(note->voice);
      stroke.pitch = note->pitch + act_.transpose;
      if (tune_up && note->voice == 0) {
        stroke.pitch += 12;
        stroke.kind = NoteKind::octave;
      }
      played_.strokes.push_back(stroke);
    }
  }

  void add(Stroke stroke) {
    stroke.leg = leg_;
    played_.strokes.push_back(stroke);
  }

  // The strokes of voice 0 in this leg, by index.
  [[nodiscard]] std::vector<Stroke> tune() const {
    std::vector<Stroke> found;
    for (std::size_t i = leg_begin_; i < played_.strokes.size(); ++i) {
      if (played_.strokes[i].voice == 0) found.push_back(played_.strokes[i]);
    }
    return found;
  }

  void double_tune() {
    for (const Stroke& note : tune()) {
      Stroke lower = filler(note.pitch - 12, note.tick, note.end, kFillerLine);
      lower.limb = Limb::left_hand;
      add(lower);
    }
  }

  // Another chord under the tune at every tune note on a beat.
  void free_harmony() {
    const Tick beat = plan::ticks(stage_.piece.plan.beat);
    const std::vector<Stroke> notes = tune();
    for (std::size_t i = 0; i < notes.size();) {
      std::size_t next = i + 1;
      while (next < notes.size() && off_beat(notes[next].tick, beat)) ++next;
      const Tick end = next < notes.size() ? notes[next].tick : act_.legs[leg_].span.end;
      const int tune_pitch = notes[i].pitch - (notes[i].kind == NoteKind::octave ? 12 : 0);
      const std::vector<int> chord = triad_under(tune_pitch, tonic_, random_);
      for (std::size_t k = 0; k < chord.size(); ++k) {
        add_under(chord[k], notes[i].tick, end, static_cast<int>(k));
      }
      i = next;
    }
  }

  [[nodiscard]] bool off_beat(Tick tick, Tick beat) const {
    return (tick - music::bar_at(stage_.piece.score, tick).start) % beat != 0;
  }

  // A free note that happens to be the score's own at this place is that note rightly played.
  void add_under(int pitch, Tick tick, Tick end, int rank) {
    Stroke stroke = filler(pitch, tick, end, kFillerLine + rank);
    if (rank == 0 && !has(act_, Texture::no_pedal)) stroke.limb = Limb::feet;
    const auto& notes = stage_.piece.score.notes;
    auto note = std::lower_bound(notes.begin(), notes.end(), tick,
                                 [](const music::Note& n, Tick t) { return n.onset < t; });
    for (; note != notes.end() && note->onset == tick; ++note) {
      if (note->pitch + act_.transpose != pitch || note->voice == 0) continue;
      stroke.kind = NoteKind::right;
      stroke.score = static_cast<int>(note - notes.begin());
      stroke.voice = note->voice;
    }
    add(stroke);
  }

  void make_fuller() {
    const std::vector<Stroke> base(
        played_.strokes.begin() + static_cast<std::ptrdiff_t>(leg_begin_), played_.strokes.end());
    for (std::size_t i = 0; i < base.size();) {
      const Tick tick = base[i].tick;
      Tick end = base[i].end;
      std::vector<int> chord;
      for (; i < base.size() && base[i].tick == tick; ++i) {
        chord.push_back(base[i].pitch);
        end = std::min(end, base[i].end);
      }
      fill(chord, tick, end);
    }
  }

  void fill(std::vector<int> chord, Tick tick, Tick end) {
    if (chord.size() < 3) return;
    for (const int pitch : stage_.harmony.sounding(tick)) {
      chord.push_back(pitch + act_.transpose);
    }
    std::sort(chord.begin(), chord.end());
    chord.erase(std::unique(chord.begin(), chord.end()), chord.end());
    const std::size_t count = 1 + random_.below(3);
    int line = kFillerLine + 5;
    for (const int pitch : fuller_pitches(chord, count, random_)) {
      add(filler(pitch, tick, end, line++));
    }
  }

  void improvise() {
    const Tick beat = plan::ticks(stage_.piece.plan.beat);
    const auto chords = static_cast<int>(act_.improvised_beats / 2);
    for (int i = 0; i < std::max(1, chords); ++i) {
      const bool last = i + 1 >= chords;
      const bool amen = act_.kind == plan::PassKind::amen;
      const int degree = last ? 0 : amen ? 3 : static_cast<int>(random_.below(6));
      const Tick begin = 2 * beat * i;
      const Tick end = last ? static_cast<Tick>(act_.improvised_beats) * beat : begin + 2 * beat;
      int line = kFillerLine;
      for (const int pitch : triad_on(degree, tonic_)) {
        Stroke stroke = filler(pitch, begin, end, line);
        if (line == kFillerLine) stroke.limb = Limb::feet;
        ++line;
        add(stroke);
      }
    }
  }

  const Stage& stage_;
  PlayedAct& played_;
  const Act& act_;
  Random random_;
  int tonic_;
  std::size_t leg_ = 0;
  std::size_t leg_begin_ = 0;
};

}  // namespace

Random stream_for(const Stage& stage, const PlayedAct& played, const char* name) {
  return Random(stage.seed, std::string(name) + "/" + std::to_string(played.act.index));
}

void voice_act(const Stage& stage, PlayedAct& played) {
  if (played.act.sounds) Voicing(stage, played).run();
}

}  // namespace loftbeat::simulate
