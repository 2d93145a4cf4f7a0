#pragma once

#include <bitset>
#include <vector>

#include "advise/console_map.h"
#include "organ/organ.h"

namespace loftbeat::advise {

// Which registrations can lie one movement apart, told in some nanoseconds: what a search asks
// before it asks the check. It may say yes where the check then says no, never the other way round.

inline constexpr std::size_t kMostControls = 256;
using Controls = std::bitset<kMostControls>;  // stops, then couplers, then tremulants

class OneMovement {
 public:
  explicit OneMovement(const ConsoleMap& console);

  // False: the organ has more controls than can be told; then ask the check.
  [[nodiscard]] bool can_tell() const { return can_tell_; }
  [[nodiscard]] Controls controls(const organ::Registration& drawn) const;
  // Stops and tremulants of the divisions that do not sound.
  [[nodiscard]] Controls silent(const std::vector<bool>& sounds) const;
  // All knobs that differ outside `prepared` drawn or all pushed in, on one side; or one piston.
  [[nodiscard]] bool may_lead(const Controls& before, const Controls& after,
                              const Controls& prepared) const;

 private:
  struct Reach {
    Controls scope;  // what the piston sets
    Controls leaves;
  };
  [[nodiscard]] bool on_one_side(const Controls& moved) const;

  const organ::Organ& organ_;
  bool can_tell_ = true;
  std::vector<Controls> sides_;
  std::vector<Reach> pistons_;
};

}  // namespace loftbeat::advise
