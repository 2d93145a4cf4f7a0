#pragma once

#include <cstdint>
#include <optional>
#include <string>

#include "base/result.h"
#include "plan/plan.h"
#include "simulate/player.h"

namespace loftbeat::simulate {

// What the command line asks for.
struct Options {
  plan::Plan plan;
  Player player;
  std::uint64_t seed = 1;
  std::string take_path = "take.mid";
  std::string truth_path = "truth.json";
};

// Outcome of reading the command line: options to run with, or an exit code (after --help, or
// after an error that was already told on standard error).
struct Asked {
  std::optional<Options> options;
  int exit_code = 0;
};

[[nodiscard]] Asked read_options(int argc, char** argv);

// "kind:pass[:quarter[:amount]]" of a fault, pass counted from 0 along the route or "all", "-" for
// a place left to chance. Example: "hesitation:2:-:0.6".
[[nodiscard]] Result<Fault> parse_fault(const std::string& text);

}  // namespace loftbeat::simulate
