#pragma once

#include <string>
#include <vector>

#include "app/export_command.h"
#include "app/hymns_command.h"
#include "base/result.h"

namespace CLI {
class App;
}

namespace loftbeat::app {

// The options of `loftbeat hymns` and `loftbeat export` as written.
struct WrittenHymns {
  HymnsOrder order;
  std::vector<std::string> words;
  std::vector<std::string> inputs;
  bool given = false;
};
struct WrittenExport {
  ExportOrder order;
  bool given = false;
};

// Add the subcommands. What is written must live until the command line has been read.
void add_hymns(CLI::App& app, WrittenHymns& written);
void add_export(CLI::App& app, WrittenExport& written);

// What they mean together. Errors are of kind wrong_use.
[[nodiscard]] Result<HymnsOrder> hymns_order_from(const WrittenHymns& written);
[[nodiscard]] Result<ExportOrder> export_order_from(const WrittenExport& written);

}  // namespace loftbeat::app
