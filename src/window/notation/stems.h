#pragma once

#include <vector>

#include "window/notation/bar_picture.h"
#include "window/notation/chord_shape.h"

// Private to window/notation: stems, flags and beams of one voice.
namespace loftbeat::window {

// A chord that wants a stem, in the picture's units.
struct StemWish {
  Tick at = 0;
  Tick length = 0;
  int value = 2;
  int tuplet = 1;
  StemSide side = StemSide::up;
  double x = 0;       // left end of its heads
  double near_y = 0;  // head at the stem's beginning
  double far_y = 0;   // head nearest to the tip
  double middle = 0;  // y of the staff's middle line
};

// How the beats lie in a bar: groups of `group` ticks from `origin` on.
struct BeatGroups {
  Tick origin = 0;
  Tick group = kTicksPerQuarter;
};
[[nodiscard]] BeatGroups beat_groups(const music::Bar& bar);

// Draws them into the picture: quavers and shorter of one beat are beamed, others have flags. In
// order of time; all of one voice.
void draw_stems(const std::vector<StemWish>& wishes, const BeatGroups& groups, BarPicture& picture);

}  // namespace loftbeat::window
