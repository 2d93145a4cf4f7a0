#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "organ/instrument.h"
#include "plan/plan.h"

namespace loftbeat::organ {

// What is drawn, by index into one organ. The same organ must be at hand to make sense of it.
// `stops` and `couplers` are what hands draw; the crescendo pedal adds its own (with_crescendo).
struct Registration {
  std::vector<std::size_t> stops;       // sorted, each once
  std::vector<std::size_t> couplers;    // sorted, each once
  std::vector<std::size_t> tremulants;  // sorted, each once
  std::vector<double> swell;            // one for each division: 0 shut to 1 open; 1 without box
  int crescendo = 0;                    // position of the crescendo pedal, 0 to its last
  friend bool operator==(const Registration&, const Registration&) = default;
};

// Nothing drawn, every box open.
[[nodiscard]] Registration empty_registration(const Organ& organ);

// Finds a stop by what a person would write: division, name and foot pitch ("Great Open Diapason
// 8"), upper or lower case, with or without the prime; the division or the foot pitch may be left
// out where only one stop is meant. Errors (kind no_fit, no file): not there, with the nearest
// name; meant by several, with all of them.
[[nodiscard]] Result<std::size_t> find_stop(const Organ& organ, std::string_view name);
[[nodiscard]] Result<std::size_t> find_coupler(const Organ& organ, std::string_view name);
[[nodiscard]] Result<std::size_t> find_tremulant(const Organ& organ, std::string_view name);
[[nodiscard]] Result<std::size_t> find_division(const Organ& organ, std::string_view name);

// Names to indexes. Stops that a plan does not state are none drawn; boxes it does not state are
// open. Errors name `plan_file` and the line of the key that is wrong.
[[nodiscard]] Result<Registration> resolve(const Organ& organ, const plan::RegistrationPlan& names,
                                           const std::string& plan_file);

// What sounds: with all that the crescendo pedal adds drawn as by hand, and the pedal at 0.
[[nodiscard]] Registration with_crescendo(const Organ& organ, Registration drawn);

// As a piston leaves it.
[[nodiscard]] Registration after_piston(const Organ& organ, Registration before,
                                        const Piston& piston);

// One sounding of a key: which division's stops it makes speak, at which key.
struct Speaking {
  std::size_t division = 0;
  int key = 60;
  friend bool operator==(const Speaking&, const Speaking&) = default;
};
// What a key of a division makes speak through the couplers drawn, itself first, each once. Keys
// outside the compass of the division that would sound are left out.
[[nodiscard]] std::vector<Speaking> coupled(const Organ& organ, const Registration& drawn,
                                            Speaking pressed);

}  // namespace loftbeat::organ
