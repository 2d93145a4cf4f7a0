#pragma once

#include "notate/setting.h"

namespace loftbeat::notate {

// How likely hymns have a note at a place, as costs (negative natural logarithms, up to a
// constant). The figures are assumptions about hymn books (common practice, no source): most
// chords stand on beats, halves of beats are common, quarters of beats rare and thirds rarer.
class Metrical {
 public:
  // The finest place that is looked at: a twelfth of a crotchet.
  static constexpr Tick kGrain = kTicksPerQuarter / 12;

  explicit Metrical(const Setting& setting);

  // Whether a note may begin at a place at all.
  [[nodiscard]] bool may_begin(Tick at) const { return depth(at) != Depth::none; }
  // The cost of going on to a chord at `next`, the last one having been at `at`; at < next.
  [[nodiscard]] double step_cost(Tick at, Tick next) const;

 private:
  enum class Depth { bar, beat, half, quarter, third, none };
  [[nodiscard]] Depth depth(Tick at) const;

  Tick bar_, beat_, upbeat_;
  Tick half_;  // of a beat; in compound metres a third
};

}  // namespace loftbeat::notate
