#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "practice/review.h"

namespace loftbeat::report {

// The beat ribbon of one pass: every beat stands at its place in the tune (left to right), and
// the ribbon hangs below the line of the set tempo where the player was behind, and rises above
// it where ahead. Under it a fringe: how far each struck beat lies from the pass's own pulse.
// All passes share both scales, so that the same bar stands at the same place in each and the
// same drift hangs as deep; each is only as high as its own drift asks for.

struct RibbonFrame {
  double width = 960;  // of the whole drawing, in its own units
  double left = 76;    // margins
  double right = 14;
  double reach = 110;  // from the line of the set tempo to the largest drift of all passes
};

// What all ribbons of a review share.
struct RibbonScale {
  double drift_ms = 250;  // at `reach`
  double step_ms = 100;   // from one line of the scale to the next
  double pulse_ms = 50;
};
[[nodiscard]] RibbonScale ribbon_scale(const practice::Review& review);
// The smallest of 1, 2, 2.5 or 5 times a power of ten that is below neither figure.
[[nodiscard]] double rounded_up(double figure, double least);

struct RibbonBeat {
  double x = 0;
  double y = 0;
  double fringe_y = 0;  // end of its bar in the fringe
  enum class Kind { struck, not_struck } kind = Kind::struck;
  std::size_t beat = 0;  // index into PassMeasures::beats
};
// A stretch without a jump in the score, a part left out or a beat unknown; only it is joined by a
// line.
using RibbonRun = std::vector<RibbonBeat>;

struct RibbonMark {
  double x = 0;
  enum class Kind { hesitation, breath, correction, restart } kind = Kind::hesitation;
};

struct RibbonLabel {
  double x = 0;
  std::string text;
};

// A line of the scale.
struct RibbonStep {
  double y = 0;
  double drift_ms = 0;  // positive = behind
};

struct Ribbon {
  double width = 0;
  double height = 0;
  double left = 0;  // where the tune begins and ends
  double right = 0;
  double top = 0;                 // end of the scale, ahead
  double zero = 0;                // the line of the set tempo
  double bottom = 0;              // end of the scale, behind
  double fringe = 0;              // base line of the fringe
  double marks = 0;               // line on which the marks stand
  std::vector<RibbonStep> steps;  // without that of the set tempo
  std::vector<RibbonRun> runs;
  std::vector<RibbonMark> marked;
  std::vector<RibbonLabel> phrases;  // at their beginning
  std::vector<RibbonLabel> bars;     // at their beginning; an empty text is a bar line alone
};

[[nodiscard]] Ribbon lay_out_ribbon(const practice::Review& review,
                                    const timing::PassMeasures& pass, const RibbonScale& scale,
                                    const RibbonFrame& frame);

}  // namespace loftbeat::report
