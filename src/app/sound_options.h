#pragma once

#include <string>

#include "app/sound_order.h"
#include "base/result.h"

namespace CLI {
class App;
}

namespace loftbeat::app {

// The options of `loftbeat sound` as written.
struct WrittenSound {
  SoundOrder order;
  std::string from;  // "0:42" or seconds
  bool given = false;
};

// Adds them to the subcommand. `written` must live until the command line has been read.
void add_sound_options(CLI::App& app, WrittenSound& written);

// What they mean together. Errors are of kind wrong_use.
[[nodiscard]] Result<SoundOrder> sound_order_from(const WrittenSound& written);

// "42", "42.5", "1:05", "1:05.5" -> seconds; nothing if it is no time from 0 to a day.
[[nodiscard]] std::optional<double> seconds_from_text(const std::string& text);

}  // namespace loftbeat::app
