#include "scene.h"

#include <algorithm>

namespace loftbeat::timing {

namespace {

constexpr int kPitches[] = {72, 67, 64, 48};
constexpr int kVoices = 4;

int chords(const Scene& scene) { return static_cast<int>(scene.score.notes.size()) / kVoices; }

void add_bars(const TuneShape& shape, music::Score& score) {
  Tick at = 0;
  if (shape.upbeat > 0) {
    score.bars.push_back({0, shape.upbeat * kTicksPerQuarter, "0", shape.beats, 4, true});
    at = shape.upbeat * kTicksPerQuarter;
  }
  for (int bar = 1; bar <= shape.bars; ++bar, at += shape.beats * kTicksPerQuarter)
    score.bars.push_back(
        {at, shape.beats * kTicksPerQuarter, std::to_string(bar), shape.beats, 4, false});
  score.length = at;
}

void add_notes(music::Score& score) {
  for (int chord = 0; chord < score.length / kTicksPerQuarter; ++chord)
    for (int voice = kVoices - 1; voice >= 0; --voice)
      score.notes.push_back({chord * kTicksPerQuarter, kTicksPerQuarter,
                             kPitches[voice] + 2 * (chord % 2), voice, voice < 2 ? 0 : 1});
  score.voices = kVoices;
  score.staves = 2;
}

void add_phrases(const TuneShape& shape, Scene& scene) {
  if (shape.phrase_bars == 0) return;
  const Tick length = shape.phrase_bars * shape.beats * kTicksPerQuarter;
  for (Tick begin = 0; begin < scene.score.length; begin += length)
    scene.score.phrases.push_back({{begin, std::min(begin + length, scene.score.length)}});
  scene.route.phrases = scene.score.phrases;
}

}  // namespace

Scene scene(const TuneShape& shape) {
  Scene made;
  add_bars(shape, made.score);
  add_notes(made.score);
  add_phrases(shape, made);
  made.plan.tempo_bpm = 60;
  return made;
}

std::size_t add_pass(Scene& scene, const std::string& label, const BeatTime& time) {
  follow::AlignedPass pass;
  const auto index = static_cast<int>(scene.alignment.passes.size());
  pass.label = label;
  if (label == "play-over") pass.kind = plan::PassKind::play_over;
  pass.covered = {0, scene.score.length};
  pass.spans = {pass.covered};
  pass.complete = true;
  pass.first_note = scene.take.notes.size();
  const int count = chords(scene);
  for (int chord = 0; chord < count; ++chord) {
    const Instant on = instant_from_seconds(time(chord));
    const double off_s = chord + 1 < count ? time(chord + 1) - 0.02 : time(chord) + 0.9;
    const Instant off = instant_from_seconds(off_s);
    for (int voice = 0; voice < kVoices; ++voice) {
      const int score_note = chord * kVoices + (kVoices - 1 - voice);
      const music::Note& note = scene.score.notes[static_cast<std::size_t>(score_note)];
      scene.take.notes.push_back(
          {on, off, off, static_cast<std::uint8_t>(note.pitch), 64, 0, 0, 1});
      scene.alignment.notes.push_back({score_note, index, follow::MatchKind::matched});
    }
    pass.onsets.push_back({chord * kTicksPerQuarter, on, on, kVoices, kVoices});
    pass.last_release = pass.last_sound = off;
  }
  pass.first_onset = pass.onsets.front().first;
  pass.last_onset = pass.onsets.back().median;
  pass.last_note = scene.take.notes.size() - 1;
  scene.alignment.passes.push_back(std::move(pass));
  return static_cast<std::size_t>(index);
}

take::TakenNote& key(Scene& scene, std::size_t pass, int chord, int voice) {
  const std::size_t first = scene.alignment.passes[pass].first_note;
  return scene.take.notes[first + static_cast<std::size_t>(chord * kVoices + voice)];
}

void miss(Scene& scene, std::size_t pass, int chord) {
  auto& aligned = scene.alignment.passes[pass];
  std::erase_if(aligned.onsets, [chord](const follow::StruckOnset& onset) {
    return onset.tick == chord * kTicksPerQuarter;
  });
  for (int voice = 0; voice < kVoices; ++voice)
    scene.alignment.notes[aligned.first_note + static_cast<std::size_t>(chord * kVoices + voice)] =
        follow::NoteMatch{};
}

}  // namespace loftbeat::timing
