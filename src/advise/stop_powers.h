#pragma once

#include <array>
#include <cstddef>
#include <vector>

#include "base/result.h"
#include "hearing/bands.h"
#include "organ/organ.h"
#include "pipes/pipes.h"

namespace loftbeat::advise {

// Sound power in third octaves as it is added up: linear, 1 = 1 pW.
using Power = std::array<double, hearing::kBandCount>;

// "+=" of two powers, the second `times` over.
void add(Power& sum, const Power& more, double times = 1);
[[nodiscard]] hearing::BandLevels levels_of(const Power& power);

// The sound power of every key of every stop of one organ, its ranks looked up once: with the
// stop's and the organ's own `power_db`, and played so many octaves off as the file asks. Without
// the swell box. About 1 KB a key and stop. Reading is safe from any thread.
class StopPowers {
 public:
  // Errors (kind no_fit, file = the organ's): a rank that no recipe has, with the nearest; a rank
  // that lies a broken number of octaves from its stop.
  [[nodiscard]] static Result<StopPowers> make(const organ::Organ& organ,
                                               const pipes::Recipes& recipes,
                                               const pipes::RankPowers& powers);

  // `key` is the key pressed, 0 to 127. All zero for keys that the rank does not have.
  [[nodiscard]] const Power& at(std::size_t stop, int key) const {
    return powers_[stop * kKeys + static_cast<std::size_t>(key)];
  }
  [[nodiscard]] std::size_t stops() const { return powers_.size() / kKeys; }

 private:
  static constexpr std::size_t kKeys = 128;
  std::vector<Power> powers_;
};

}  // namespace loftbeat::advise
