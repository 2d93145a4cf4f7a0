#pragma once

#include <string>

#include "base/base.h"

namespace loftbeat::app {

// What the program answers with when it ends.
inline constexpr int kReviewed = 0;
inline constexpr int kFailed = 1;      // the system refused: disk full, no memory
inline constexpr int kWrongUse = 2;    // the command line makes no sense
inline constexpr int kUnreadable = 3;  // a file cannot be read, or is not what it should be
inline constexpr int kNoFit = 4;       // the take is not of this score

// The exit code for a failure.
[[nodiscard]] int exit_code(const Error& error);

// Tells the error on standard error, whatever bytes it quotes, and gives its exit code.
int fail(const Error& error);

// A command line that makes no sense, and what to do instead.
[[nodiscard]] Error wrong_use(std::string message, std::string hint);

}  // namespace loftbeat::app
