#include "voice/hands.h"

#include <algorithm>

namespace loftbeat::voice {
namespace {

bool wears(const plan::RoutePass& pass, plan::Texture texture) {
  return std::find(pass.textures.begin(), pass.textures.end(), texture) != pass.textures.end();
}

bool sounds(const organ::Organ& organ, const organ::Registration& drawn, std::size_t division) {
  const auto has_stop = [&](std::size_t pipes) {
    return std::any_of(drawn.stops.begin(), drawn.stops.end(),
                       [&](std::size_t stop) { return organ.stops[stop].division == pipes; });
  };
  if (has_stop(division)) return true;
  return std::any_of(drawn.couplers.begin(), drawn.couplers.end(), [&](std::size_t index) {
    const organ::Coupler& coupler = organ.couplers[index];
    return coupler.played_on == division && has_stop(coupler.sounds);
  });
}

int into_compass(const organ::Division& division, int key) {
  while (key < division.lowest_key) key += 12;
  while (key > division.highest_key) key -= 12;
  return key;
}

// Whether another note of the score, at the same moment, leaves that pitch free and lies above it
// in the tune and below it in the bass.
bool fits_between(const music::Score& score, const music::Note& note, int pitch) {
  bool below_the_tune = false;
  bool above_the_bass = false;
  const int bass = score.voices - 1;
  for (const music::Note& other : score.notes) {
    if (other.onset > note.onset) break;
    if (other.onset + other.length <= note.onset) continue;
    if (other.pitch == pitch) return false;
    if (other.voice == 0 && other.pitch > pitch) below_the_tune = true;
    if (other.voice == bass && other.pitch < pitch) above_the_bass = true;
  }
  return below_the_tune && above_the_bass;
}

// Collects the keys of one span.
class Dresser {
 public:
  Dresser(const music::Score& score, const plan::RoutePass& pass, const organ::Organ& organ,
          const Manuals& manuals)
      : score_(score),
        organ_(organ),
        manuals_(manuals),
        transpose_(pass.transpose_semitones),
        unison_(wears(pass, plan::Texture::unison)),
        fuller_(wears(pass, plan::Texture::fuller)),
        pedal_(manuals.feet.has_value() && !wears(pass, plan::Texture::no_pedal)),
        tune_octave_(wears(pass, plan::Texture::tune_up_octave) ? 1 : 0),
        bass_(score.voices > 1 ? score.voices - 1 : -1) {}

  // One note of the score, which ends at `end`.
  void dress(const music::Note& note, Tick end) {
    if (unison_) return in_unison(note, end);
    const bool tune = note.voice == 0;
    if (note.voice == bass_ && pedal_) {
      feet(note, end, 0);
    } else {
      hands(note, end, tune ? tune_octave_ : 0);
    }
    if (fuller_) fill(note, end);
  }
  [[nodiscard]] std::vector<PlayedKey> take() { return std::move(keys_); }

 private:
  void in_unison(const music::Note& note, Tick end) {
    if (note.voice != 0) return;
    hands(note, end, tune_octave_);
    hands(note, end, -1);
    if (pedal_) feet(note, end, -2);
  }
  void fill(const music::Note& note, Tick end) {
    const bool tune = note.voice == 0;
    const bool tenor = !tune && note.voice == bass_ - 1;
    if (tune && fits_between(score_, note, note.pitch - 12)) hands(note, end, -1);
    if (tenor && fits_between(score_, note, note.pitch + 12)) hands(note, end, 1);
  }
  void hands(const music::Note& note, Tick end, int octaves) {
    add(manuals_.hands, note, end, octaves);
  }
  void feet(const music::Note& note, Tick end, int octaves) {
    add(manuals_.feet.value_or(manuals_.hands), note, end, octaves);
  }
  void add(int division, const music::Note& note, Tick end, int octaves) {
    const int key = into_compass(organ_.divisions[static_cast<std::size_t>(division)],
                                 note.pitch + transpose_ + 12 * octaves);
    keys_.push_back({note.onset, end, division, key});
  }

  const music::Score& score_;
  const organ::Organ& organ_;
  const Manuals& manuals_;
  int transpose_;
  bool unison_;
  bool fuller_;
  bool pedal_;
  int tune_octave_;
  int bass_;
  std::vector<PlayedKey> keys_;
};

}  // namespace

Manuals manuals_for(const organ::Organ& organ, const organ::Registration& by_hand) {
  const organ::Registration drawn = organ::with_crescendo(organ, by_hand);
  Manuals manuals;
  std::optional<int> first_manual;
  std::optional<int> sounding_manual;
  for (std::size_t d = 0; d < organ.divisions.size(); ++d) {
    const int index = static_cast<int>(d);
    const bool speaks = sounds(organ, drawn, d);
    if (organ.divisions[d].kind == organ::Division::Kind::pedal) {
      if (speaks && !manuals.feet) manuals.feet = index;
      continue;
    }
    if (!first_manual) first_manual = index;
    if (speaks && !sounding_manual) sounding_manual = index;
  }
  manuals.hands = sounding_manual.value_or(first_manual.value_or(0));
  return manuals;
}

std::vector<PlayedKey> dressed(const music::Score& score, const plan::RoutePass& pass,
                               TickSpan span, const organ::Organ& organ, const Manuals& manuals) {
  Dresser dresser(score, pass, organ, manuals);
  const auto first = std::lower_bound(score.notes.begin(), score.notes.end(), span.begin,
                                      [](const music::Note& n, Tick t) { return n.onset < t; });
  for (auto note = first; note != score.notes.end() && note->onset < span.end; ++note)
    dresser.dress(*note, std::min(note->onset + note->length, span.end));
  return dresser.take();
}

}  // namespace loftbeat::voice
