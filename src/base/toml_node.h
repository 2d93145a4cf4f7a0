#pragma once

// Private to base/toml*: the tree that handles point into. It is a copy of what the TOML parser
// found, so that the parser's own header is compiled once only.

#include <cstdint>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "base/toml_document.h"

namespace loftbeat {

struct TomlEntry;

struct TomlTableData {
  std::vector<TomlEntry> entries;  // in the order of the file
  std::vector<std::string> asked;  // keys that the reader wanted, each once
};

struct TomlDate {
  std::string text;
};

struct TomlNode {
  int line = 1;
  int column = 1;
  std::variant<bool, std::int64_t, double, std::string, TomlDate, std::vector<TomlNode>,
               TomlTableData>
      value;  // false at first; an initializer here would need TomlEntry to be complete
};

struct TomlEntry {
  std::string key;
  int line = 1;  // of the key
  int column = 1;
  bool taken = false;
  TomlNode node;
};

struct TomlState {
  std::string name;
  TomlNode root;
  std::vector<Error> wrong;    // values
  std::vector<Error> missing;  // needed keys
};

// Text to tree. Everything that the parser throws ends here.
[[nodiscard]] Result<TomlNode> parse_toml_tree(std::string_view text, const std::string& name,
                                               const TomlLimits& limits);

// Looks for nesting that would overrun the stack, before anything is built: more than
// `limits.depth` open brackets, or as many dots within one key.
[[nodiscard]] Status check_toml_nesting(std::string_view text, const std::string& name,
                                        const TomlLimits& limits);

}  // namespace loftbeat
