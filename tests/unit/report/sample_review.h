#pragma once

#include "practice/review.h"

namespace loftbeat::testing {

// A made-up review of an own tune in 4/4 with an upbeat, four-part, told wholly by hand so that
// report/ can be tried without following and timing: a timid, slightly quick play-over of the
// first and last phrase, a good verse, a dragging verse with a hesitation, a correction and a
// restart, a late join, and a last verse. The same input gives the same review.
struct SampleSize {
  int bars = 8;    // full bars, a multiple of 4; a quarter of them makes a phrase
  int verses = 3;  // 1 or more
};
[[nodiscard]] practice::Review sample_review(SampleSize size = {});

}  // namespace loftbeat::testing
