#include "advise/chord_change.h"

#include <algorithm>
#include <iterator>

#include "advise/hand_work.h"

namespace loftbeat::advise {
namespace {

using organ::ConsoleMove;
using organ::Organ;
using organ::Registration;

// Which divisions' pipes the keys reach.
std::vector<bool> speaking(const Organ& organ, const HeldChord& chord, const Registration& drawn) {
  std::vector<bool> speaks(organ.divisions.size(), false);
  for (const organ::Speaking& key : chord.pressed) {
    for (const organ::Speaking& pipe : organ::coupled(organ, drawn, key))
      speaks[pipe.division] = true;
  }
  return speaks;
}

bool has_stop(const Organ& organ, const Registration& drawn, std::size_t division) {
  return std::any_of(drawn.stops.begin(), drawn.stops.end(),
                     [&](std::size_t stop) { return organ.stops[stop].division == division; });
}

bool plays_on(const HeldChord& chord, std::size_t division) {
  return std::any_of(chord.pressed.begin(), chord.pressed.end(),
                     [&](const organ::Speaking& key) { return key.division == division; });
}

}  // namespace

HeldChord held_at(const take::CleanTake& take, const Organ& organ, Instant at, Instant before) {
  HeldChord chord;
  for (const take::TakenNote& note : take.notes) {
    if (note.on > at || note.on >= before) break;  // notes are sorted
    if (at + take.stamp_uncertainty >= note.sound_off) continue;
    const unsigned channels = note.channels != 0 ? note.channels : 1U << note.channel;
    for (int channel = 0; channel < 16; ++channel) {
      if ((channels >> channel & 1U) == 0) continue;
      const auto division = organ::division_of(organ, channel + 1, note.pitch);
      if (!division) {
        chord.place = HeldChord::Place::unplaced;
      } else {
        chord.pressed.push_back({*division, note.pitch});
      }
    }
  }
  return chord;
}

bool is_heard(const Organ& organ, const HeldChord& chord, const Registration& before,
              const Registration& after) {
  const Registration was = organ::with_crescendo(organ, before);
  const Registration is = organ::with_crescendo(organ, after);
  std::vector<bool> speaks = speaking(organ, chord, was);
  const std::vector<bool> then = speaking(organ, chord, is);
  for (std::size_t d = 0; d < speaks.size(); ++d) speaks[d] = speaks[d] || then[d];
  const auto drawn_in = [&](std::size_t division) {
    return has_stop(organ, was, division) || has_stop(organ, is, division);
  };
  const auto changes = controls_between(was, is);
  return std::any_of(changes.begin(), changes.end(), [&](const ConsoleMove& change) {
    if (change.what == ConsoleMove::What::stop)
      return bool(speaks[organ.stops[change.index].division]);
    if (change.what == ConsoleMove::What::coupler) {
      const organ::Coupler& coupler = organ.couplers[change.index];
      return plays_on(chord, coupler.played_on) && drawn_in(coupler.sounds);
    }
    const std::size_t division = organ.tremulants[change.index].division;
    return speaks[division] && drawn_in(division);
  });
}

}  // namespace loftbeat::advise
