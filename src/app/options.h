#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/base.h"
#include "plan/plan.h"

namespace loftbeat::app {

// What the program answers with when it ends.
inline constexpr int kReviewed = 0;
inline constexpr int kFailed = 1;      // the system refused: disk full, no memory
inline constexpr int kWrongUse = 2;    // the command line makes no sense
inline constexpr int kUnreadable = 3;  // a file cannot be read, or is not what it should be
inline constexpr int kNoFit = 4;       // the take is not of this score

// The exit code for a failure.
[[nodiscard]] int exit_code(const Error& error);

// `loftbeat review`, understood. Either `plan_path` names a plan file, or it is empty and `plan`
// holds what the options say.
struct ReviewOrder {
  std::string plan_path;
  plan::Plan plan;
  std::string take_path;
  std::string json_path;  // empty: not wanted; "-": standard output
  std::string page_path;  // the same
};

// A command line read: an order, or what to print and how to end.
struct Invocation {
  std::optional<ReviewOrder> order;
  int code = kReviewed;
  std::string output;  // for standard output (--help, --version)
  std::string errors;  // for standard error
};

// `words` are the arguments without the program's name.
[[nodiscard]] Invocation read_command_line(const std::vector<std::string>& words);

}  // namespace loftbeat::app
