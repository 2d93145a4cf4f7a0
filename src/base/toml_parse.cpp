#define TOML_HEADER_ONLY 0
#define TOML_SHARED_LIB 1
#include <toml++/toml.h>

#include <algorithm>
#include <new>
#include <sstream>

#include <fmt/format.h>

#include "base/toml_node.h"

namespace loftbeat {
namespace {

// Copies the parser's tree, counting values and depth.
class Copier {
 public:
  explicit Copier(const TomlLimits& limits) : limits_(limits) {}

  TomlNode copy(const toml::node& from, int depth) {
    TomlNode to;
    to.line = static_cast<int>(from.source().begin.line);
    to.column = static_cast<int>(from.source().begin.column);
    const bool container = from.is_table() || from.is_array();
    if (depth > limits_.depth) passed("is nested too deep here", to.line);
    if (!container && ++values_ > limits_.values) passed("has too many values", to.line);
    if (!error_line_) fill(to, from, depth);
    return to;
  }

  // 0 if all limits were kept.
  [[nodiscard]] int error_line() const { return error_line_; }
  [[nodiscard]] const std::string& message() const { return message_; }

 private:
  void passed(const char* what, int line) {
    if (error_line_) return;
    error_line_ = std::max(line, 1);
    message_ = fmt::format("{}; at most {} levels and {} values are read.", what, limits_.depth,
                           limits_.values);
  }

  void fill(TomlNode& to, const toml::node& from, int depth) {
    if (const auto* text = from.as_string()) to.value = text->get();
    if (const auto* flag = from.as_boolean()) to.value = flag->get();
    if (const auto* whole = from.as_integer()) to.value = whole->get();
    if (const auto* number = from.as_floating_point()) to.value = number->get();
    if (from.is_date() || from.is_time() || from.is_date_time()) to.value = TomlDate{"a date"};
    if (const auto* array = from.as_array()) to.value = copy_items(*array, depth);
    if (const auto* table = from.as_table()) to.value = copy_entries(*table, depth);
  }

  std::vector<TomlNode> copy_items(const toml::array& array, int depth) {
    std::vector<TomlNode> items;
    for (const toml::node& item : array) items.push_back(copy(item, depth + 1));
    return items;
  }

  TomlTableData copy_entries(const toml::table& table, int depth) {
    TomlTableData data;
    for (const auto& [key, node] : table) {
      TomlEntry entry;
      entry.key = std::string(key.str());
      entry.line = static_cast<int>(key.source().begin.line);
      entry.column = static_cast<int>(key.source().begin.column);
      entry.node = copy(node, depth + 1);
      data.entries.push_back(std::move(entry));
    }
    std::stable_sort(data.entries.begin(), data.entries.end(),
                     [](const TomlEntry& a, const TomlEntry& b) {
                       return std::pair(a.line, a.column) < std::pair(b.line, b.column);
                     });
    return data;
  }

  TomlLimits limits_;
  std::size_t values_ = 0;
  int error_line_ = 0;
  std::string message_;
};

// Files given in the wrong order are the commonest reason for what is no text at all.
bool is_midi_file(std::string_view text) { return text.substr(0, 4) == "MThd"; }

Error not_toml(const toml::parse_error& thrown, const std::string& name) {
  return Error{ErrorKind::unreadable,
               fmt::format("is not well-formed TOML: {}.", thrown.description()),
               name,
               static_cast<int>(thrown.source().begin.line),
               static_cast<int>(thrown.source().begin.column),
               "Check quotes, brackets and equals signs on this line and the one above."};
}

}  // namespace

Result<TomlNode> parse_toml_tree(std::string_view text, const std::string& name,
                                 const TomlLimits& limits) {
  if (is_midi_file(text)) {
    return Error{ErrorKind::unreadable,
                 "this is a MIDI file; expected a text file of settings.",
                 name,
                 0,
                 0,
                 "Name the plan first, then the take."};
  }
  try {
    const toml::table parsed = toml::parse(text, name);
    Copier copier(limits);
    TomlNode root = copier.copy(parsed, 0);
    root.line = root.column = 1;
    if (copier.error_line() == 0) return root;
    return Error{ErrorKind::too_large,
                 copier.message(),
                 name,
                 copier.error_line(),
                 0,
                 "Split the file, or write it flatter."};
  } catch (const toml::parse_error& thrown) {
    return not_toml(thrown, name);
  } catch (const std::bad_alloc&) {
    return Error{ErrorKind::too_large, "needs more memory than there is.", name, 0, 0, ""};
  } catch (const std::exception& thrown) {
    return Error{
        ErrorKind::unreadable, fmt::format("cannot be read: {}.", thrown.what()), name, 0, 0, ""};
  }
}

}  // namespace loftbeat
