#pragma once

#include <functional>
#include <string>
#include <vector>

#include "timing/fitted_pass.h"
#include "timing/measures.h"

namespace loftbeat::timing {

// A small hand-made take: a tune of plain crotchet chords in four voices, every chord placed by
// the test. Voices 0 to 3 alternate between two pitches each, so that no note is repeated.
struct Scene {
  music::Score score;
  plan::Plan plan;
  plan::Route route;
  take::CleanTake take;
  follow::Alignment alignment;

  [[nodiscard]] Question question() const { return {score, plan, route, take, alignment}; }
  [[nodiscard]] Timing measure() const { return timing::measure(question()); }
  [[nodiscard]] FittedPass fit(std::size_t pass) const {
    return fit_pass(question(), alignment.passes[pass]);
  }
};

struct TuneShape {
  int beats = 4;        // of 4 in a bar
  int bars = 8;         // full ones
  int upbeat = 0;       // crotchets
  int phrase_bars = 4;  // 0: no phrases known
};

// A scene with the tune, set to 60 crotchets a minute, and no pass yet.
[[nodiscard]] Scene scene(const TuneShape& shape);

using BeatTime = std::function<double(int chord)>;  // seconds, by chord from 0

// Plays the whole tune; every key goes up 0.02 s before the next chord (the last after 0.9 s).
// Returns the pass's index.
std::size_t add_pass(Scene& scene, const std::string& label, const BeatTime& time);

// The key of `voice` at `chord` of a pass, to be moved by a test.
[[nodiscard]] take::TakenNote& key(Scene& scene, std::size_t pass, int chord, int voice);

// Takes the chord away as if it had been missed.
void miss(Scene& scene, std::size_t pass, int chord);

}  // namespace loftbeat::timing
