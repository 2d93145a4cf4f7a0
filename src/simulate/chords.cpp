#include "simulate/chords.h"

#include <algorithm>
#include <array>

namespace loftbeat::simulate {
namespace {

constexpr std::array<int, 7> kMajor = {0, 2, 4, 5, 7, 9, 11};

bool holds(const std::vector<int>& pitches, int pitch) {
  return std::find(pitches.begin(), pitches.end(), pitch) != pitches.end();
}

int pitch_class(int pitch) { return ((pitch % 12) + 12) % 12; }

std::array<int, 3> triad_classes(int degree, int tonic) {
  std::array<int, 3> classes{};
  for (std::size_t i = 0; i < 3; ++i) {
    const auto step = (static_cast<std::size_t>(degree) + 2 * i) % 7;
    classes[i] = pitch_class(tonic + kMajor[step]);
  }
  return classes;
}

// The highest pitch of this class below `limit`.
int below(int limit, int wanted_class) {
  int pitch = limit - 1;
  while (pitch_class(pitch) != wanted_class) --pitch;
  return pitch;
}

}  // namespace

Harmony::Harmony(const music::Score& score) {
  std::vector<const music::Note*> down;
  for (std::size_t i = 0; i < score.notes.size();) {
    const Tick tick = score.notes[i].onset;
    std::erase_if(down, [&](const music::Note* n) { return n->onset + n->length <= tick; });
    for (; i < score.notes.size() && score.notes[i].onset == tick; ++i) {
      down.push_back(&score.notes[i]);
    }
    std::vector<int> pitches;
    for (const music::Note* note : down) pitches.push_back(note->pitch);
    std::sort(pitches.begin(), pitches.end());
    pitches.erase(std::unique(pitches.begin(), pitches.end()), pitches.end());
    ticks_.push_back(tick);
    pitches_.push_back(std::move(pitches));
  }
}

const std::vector<int>& Harmony::sounding(Tick tick) const {
  const auto after = std::upper_bound(ticks_.begin(), ticks_.end(), tick);
  if (after == ticks_.begin()) return none_;
  return pitches_[static_cast<std::size_t>(after - ticks_.begin() - 1)];
}

int tonic_of(const music::Score& score) {
  if (!score.keys.empty()) {
    const music::KeyMark& key = score.keys.front();
    return pitch_class(7 * key.fifths + (key.minor ? 9 : 0));
  }
  int lowest = 60;
  Tick last = 0;
  for (const music::Note& note : score.notes) {
    if (note.onset > last) lowest = 127;
    last = note.onset;
    lowest = std::min(lowest, note.pitch);
  }
  return pitch_class(lowest);
}

std::vector<int> fuller_pitches(const std::vector<int>& chord, std::size_t count, Random& random) {
  std::vector<int> free;
  if (chord.size() < 2) return free;
  if (chord.front() - 12 >= 36) free.push_back(chord.front() - 12);
  for (int pitch = chord.front() + 1; pitch < chord.back(); ++pitch) {
    const bool tone = std::any_of(chord.begin(), chord.end(),
                                  [&](int c) { return pitch_class(c) == pitch_class(pitch); });
    if (tone && !holds(chord, pitch)) free.push_back(pitch);
  }
  while (free.size() > count) {
    free.erase(free.begin() + static_cast<std::ptrdiff_t>(random.below(free.size())));
  }
  return free;
}

std::vector<int> triad_under(int tune, int tonic, Random& random) {
  std::vector<int> degrees;
  for (int degree = 0; degree < 6; ++degree) {
    const auto classes = triad_classes(degree, tonic);
    if (std::find(classes.begin(), classes.end(), pitch_class(tune)) != classes.end()) {
      degrees.push_back(degree);
    }
  }
  // A tune note foreign to the key gets the major triad on itself.
  std::array<int, 3> classes = {pitch_class(tune), pitch_class(tune + 4), pitch_class(tune + 7)};
  const double pick = random.uniform();
  if (!degrees.empty()) {
    const auto index = static_cast<std::size_t>(pick * static_cast<double>(degrees.size()));
    classes = triad_classes(degrees[std::min(index, degrees.size() - 1)], tonic);
  }
  const int alto = below(tune - 1, classes[random.below(3)]);
  const int tenor = below(alto, classes[random.below(3)]);
  const int bass = below(std::min(tenor - 3, 57), classes[0]);
  return {bass, tenor, alto};
}

std::vector<int> triad_on(int degree, int tonic) {
  const auto classes = triad_classes(degree, tonic);
  const int soprano = below(77, classes[2]);
  const int alto = below(soprano, classes[1]);
  const int tenor = below(alto, classes[0]);
  return {below(std::min(tenor, 55), classes[0]), tenor, alto, soprano};
}

int wrong_pitch(int pitch, const std::vector<int>& chord, Random& random) {
  std::vector<int> choices;
  for (const int step : {-2, -1, 1, 2}) {
    if (!holds(chord, pitch + step)) choices.push_back(pitch + step);
  }
  for (int away = -9; away <= 9; ++away) {
    const bool tone = std::any_of(chord.begin(), chord.end(), [&](int c) {
      return pitch_class(c) == pitch_class(pitch + away);
    });
    if (std::abs(away) > 2 && tone && !holds(chord, pitch + away)) {
      choices.push_back(pitch + away);
    }
  }
  return choices.empty() ? pitch + 3 : choices[random.below(choices.size())];
}

}  // namespace loftbeat::simulate
