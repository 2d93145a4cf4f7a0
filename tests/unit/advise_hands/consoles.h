#pragma once

// Invented consoles and four-part tunes for the tests of this folder.

#include <random>
#include <string>
#include <vector>

#include "music/score.h"
#include "organ/organ.h"
#include "plan/route.h"

namespace loftbeat::advise {

// Great on the right jamb, Swell on the left, a pedal stop on the left, two couplers as tabs.
// Indexes: 0-3 Great 8 8 4 2, 4-6 Swell 8 4 2, 7 Pedal 16.
[[nodiscard]] inline organ::Organ small_console() {
  using organ::Side;
  organ::Organ organ;
  organ.divisions.resize(3);
  organ.divisions[0].name = "Great";
  organ.divisions[1].name = "Swell";
  organ.divisions[2].name = "Pedal";
  organ.divisions[2].kind = organ::Division::Kind::pedal;
  organ.divisions[1].box = organ::SwellBox{};
  const auto stop = [&](const char* name, std::size_t division, const char* pitch, double feet,
                        organ::Family family, organ::Location at) {
    organ::Stop made;
    made.name = name;
    made.division = division;
    made.pitch = pitch;
    made.feet = feet;
    made.family = family;
    made.rank = organ::usual_rank(family, pitch);
    made.location = at;
    organ.stops.push_back(made);
  };
  using organ::Family;
  stop("Open Diapason", 0, "8", 8, Family::principal, {Side::right, 1, 1});
  stop("Stopped Diapason", 0, "8", 8, Family::stopped_flute, {Side::right, 1, 2});
  stop("Principal", 0, "4", 4, Family::principal, {Side::right, 2, 1});
  stop("Fifteenth", 0, "2", 2, Family::principal, {Side::right, 3, 3});
  stop("Gedackt", 1, "8", 8, Family::stopped_flute, {Side::left, 1, 1});
  stop("Gemshorn", 1, "4", 4, Family::principal, {Side::left, 1, 2});
  stop("Fifteenth", 1, "2", 2, Family::principal, {Side::left, 2, 1});
  stop("Bourdon", 2, "16", 16, Family::stopped_flute, {Side::left, 3, 1});
  organ::Coupler swell_to_great;
  swell_to_great.name = "Swell to Great";
  swell_to_great.played_on = 0;
  swell_to_great.sounds = 1;
  swell_to_great.location = {Side::above, 1, 1};
  organ::Coupler great_to_pedal;
  great_to_pedal.name = "Great to Pedal";
  great_to_pedal.played_on = 2;
  great_to_pedal.sounds = 0;
  great_to_pedal.location = {Side::above, 1, 2};
  organ.couplers = {swell_to_great, great_to_pedal};
  return organ;
}

[[nodiscard]] inline organ::Registration drawn(const organ::Organ& organ,
                                               std::vector<std::size_t> stops,
                                               std::vector<std::size_t> couplers = {}) {
  organ::Registration registration = organ::empty_registration(organ);
  registration.stops = std::move(stops);
  registration.couplers = std::move(couplers);
  return registration;
}

[[nodiscard]] inline organ::Registration random_registration(const organ::Organ& organ,
                                                             std::mt19937& random) {
  organ::Registration registration = organ::empty_registration(organ);
  for (std::size_t s = 0; s < organ.stops.size(); ++s) {
    if (random() % 2 == 0) registration.stops.push_back(s);
  }
  for (std::size_t c = 0; c < organ.couplers.size(); ++c) {
    if (random() % 2 == 0) registration.couplers.push_back(c);
  }
  return registration;
}

struct FourParts {
  int soprano = 71;
  int alto = 67;
  int tenor = 62;
  int bass = 43;
};

// 4/4, two phrases of two bars each: six crotchet chords and a minim, all `usual`, but for the
// last chord of the tune, `last`.
[[nodiscard]] inline music::Score chorale(const FourParts& usual, const FourParts& last) {
  music::Score score;
  const Tick quarter = kTicksPerQuarter;
  for (int bar = 0; bar < 4; ++bar) {
    score.bars.push_back({score.length, 4 * quarter, std::to_string(bar + 1), 4, 4, false});
    score.length += 4 * quarter;
  }
  score.phrases = {{{0, 8 * quarter}}, {{8 * quarter, 16 * quarter}}};
  for (Tick phrase = 0; phrase < 2; ++phrase) {
    for (Tick beat = 0; beat < 7; ++beat) {
      const FourParts& chord = phrase == 1 && beat == 6 ? last : usual;
      const Tick length = beat == 6 ? 2 * quarter : quarter;
      const Tick onset = (8 * phrase + beat) * quarter;
      score.notes.push_back({onset, length, chord.bass, 3, 1});
      score.notes.push_back({onset, length, chord.tenor, 2, 1});
      score.notes.push_back({onset, length, chord.alto, 1, 0});
      score.notes.push_back({onset, length, chord.soprano, 0, 0});
    }
  }
  score.voices = 4;
  score.staves = 2;
  return score;
}
[[nodiscard]] inline music::Score chorale() { return chorale({}, {}); }

[[nodiscard]] inline plan::RoutePass verse(const music::Score& score, const std::string& label,
                                           std::vector<plan::Texture> textures = {}) {
  plan::RoutePass pass;
  pass.label = label;
  pass.spans = {{0, score.length}};
  pass.textures = std::move(textures);
  return pass;
}

}  // namespace loftbeat::advise
