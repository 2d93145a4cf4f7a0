#pragma once

#include <array>
#include <vector>

#include "hearing/bands.h"

namespace loftbeat::pipes {

// hearing::filter_power laid down every four cents, so that a partial costs a few dozen operations.
// Private to pipes/. Error against the filters themselves: below 0.01 dB where a band matters.
class FilterCurves {
 public:
  FilterCurves();
  // Adds what the filters let through of a tone of this power (1 = 1 pW).
  void add(std::array<double, hearing::kBandCount>& bands, double hz, double power) const;

 private:
  std::vector<std::array<double, hearing::kBandCount>> at_;
};

// The one instance; made at first use, in any thread.
[[nodiscard]] const FilterCurves& filter_curves();

}  // namespace loftbeat::pipes
