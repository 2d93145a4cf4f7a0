#pragma once

#include <optional>

#include <QString>

#include "window/keys/practice_thread.h"

namespace loftbeat::window {

// What comes in, and what to do if nothing does. `quiet_s`: seconds since the last message, or
// since it began to listen; nothing: unknown.
[[nodiscard]] QString input_words(const PracticeSight& sight, std::optional<double> quiet_s);

}  // namespace loftbeat::window
