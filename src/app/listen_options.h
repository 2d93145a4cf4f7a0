#pragma once

#include <string>
#include <vector>

#include "app/listen_command.h"
#include "base/result.h"

namespace CLI {
class App;
}

namespace loftbeat::app {

// The options of `loftbeat listen` as written.
struct WrittenListen {
  ListenOrder order;
  std::vector<std::string> inputs;
  double speed_percent = 100;
  std::string click;
  std::string signal;
  std::string only;
  std::string stops;
  bool sound = false;
  bool drift = false;
  bool given = false;
};

// Adds them to the subcommand. `written` must live until the command line has been read.
void add_listen_options(CLI::App& app, WrittenListen& written);

// "Great=name" or "name".
[[nodiscard]] InputChoice input_from(const std::string& text);

// What they mean together. Errors are of kind wrong_use.
[[nodiscard]] Result<ListenOrder> listen_order_from(const WrittenListen& written);

}  // namespace loftbeat::app
