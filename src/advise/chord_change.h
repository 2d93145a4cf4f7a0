#pragma once

#include <vector>

#include "advise/stop_events.h"

namespace loftbeat::advise {

// Is a change of stops heard in the chord that is held meanwhile? Pure; any thread.

// What the keys down at an instant play. `unplaced`: some key sends on a channel that the organ
// file gives to no division, so that what it sounds is not known.
struct HeldChord {
  std::vector<organ::Speaking> pressed;
  enum class Place { known, unplaced } place = Place::known;
  [[nodiscard]] bool empty() const { return pressed.empty() && place == Place::known; }
};

// Keys that went down before `before` and still sound at `at`, with `stamp` to spare: a key let go
// within the uncertainty of the stamps is let go. A sustain pedal keeps them sounding. Twins on
// coupled channels play each of their divisions.
[[nodiscard]] HeldChord held_at(const take::CleanTake& take, const organ::Organ& organ, Instant at,
                                Instant before);

// True if the change alters what sounds: a stop of a division that the chord plays, by its own keys
// or through couplers drawn before or after; a coupler whose keys are down and whose other division
// has a stop drawn; a tremulant over stops that sound. What a crescendo pedal draws anyway is no
// change. Worked number: Swell to Great drawn, a chord on the Great: a Swell stop drawn is heard, a
// Pedal stop is not.
[[nodiscard]] bool is_heard(const organ::Organ& organ, const HeldChord& chord,
                            const organ::Registration& before, const organ::Registration& after);

}  // namespace loftbeat::advise
