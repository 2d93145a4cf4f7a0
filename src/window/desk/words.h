#pragma once

#include <string>

#include <QString>

#include "base/result.h"

namespace loftbeat::window {

// Text of files and libraries, as it is.
[[nodiscard]] inline QString words(const std::string& text) { return QString::fromStdString(text); }

// An error with what to do about it.
[[nodiscard]] inline QString words(const Error& error) { return words(to_string(error)); }

// Hints for the command line mean nothing in the window: `hint` (of context "desk", translated)
// takes their place, or that of none.
[[nodiscard]] Error for_window(Error error, const char* hint);

}  // namespace loftbeat::window
