#include "base/toml_document.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <tuple>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "base/file.h"
#include "base/nearest.h"
#include "base/toml_node.h"

namespace loftbeat {
namespace {

constexpr std::size_t kMostErrors = 1000;  // a hostile file must not fill the book
constexpr std::size_t kLongestQuote = 40;

TomlTableData& table_of(TomlNode& node) { return std::get<TomlTableData>(node.value); }

std::string in_quotes(std::string_view text) {
  if (text.size() <= kLongestQuote) return toml_text(text);
  return toml_text(std::string(text.substr(0, kLongestQuote)) + "...");
}

// "the text "fast"", "3", "a table": for "... is X; expected Y".
std::string describe(const TomlNode& node) {
  struct Describer {
    std::string operator()(bool flag) const { return flag ? "true" : "false"; }
    std::string operator()(std::int64_t whole) const { return fmt::format("{}", whole); }
    std::string operator()(double number) const { return fmt::format("{}", number); }
    std::string operator()(const std::string& text) const { return "the text " + in_quotes(text); }
    std::string operator()(const TomlDate& date) const { return date.text; }
    std::string operator()(const std::vector<TomlNode>&) const { return "a list"; }
    std::string operator()(const TomlTableData&) const { return "a table"; }
  };
  return std::visit(Describer{}, node.value);
}

template <typename Range>
std::string bounds(const Range& range, std::string_view kind) {
  const Range open;
  const bool below = range.least != open.least;
  const bool above = range.most != open.most;
  if (below && above) return fmt::format("{} from {} to {}", kind, range.least, range.most);
  if (below) return fmt::format("{} of at least {}", kind, range.least);
  if (above) return fmt::format("{} of at most {}", kind, range.most);
  return std::string(kind);
}

void note(std::vector<Error>& book, Error error) {
  if (book.size() < kMostErrors) book.push_back(std::move(error));
}

// Keys that nobody asked for, in this table and in those below that somebody asked for.
void find_unknown(const TomlNode& node, const std::string& file, std::vector<Error>& book) {
  if (const auto* items = std::get_if<std::vector<TomlNode>>(&node.value)) {
    for (const TomlNode& item : *items) find_unknown(item, file, book);
  }
  const auto* table = std::get_if<TomlTableData>(&node.value);
  if (table == nullptr) return;
  for (const TomlEntry& entry : table->entries) {
    if (entry.taken) {
      find_unknown(entry.node, file, book);
    } else {
      note(book, Error{ErrorKind::unreadable, fmt::format("unknown key {}.", in_quotes(entry.key)),
                       file, entry.line, entry.column, nearest_hint(entry.key, table->asked)});
    }
  }
}

}  // namespace

int TomlItem::line() const { return node_ != nullptr ? node_->line : table_line_; }

bool TomlItem::is_text() const {
  return present() && std::holds_alternative<std::string>(node_->value);
}
bool TomlItem::is_integer() const {
  return present() && std::holds_alternative<std::int64_t>(node_->value);
}
bool TomlItem::is_number() const {
  return is_integer() || (present() && std::holds_alternative<double>(node_->value));
}
bool TomlItem::is_array() const {
  return present() && std::holds_alternative<std::vector<TomlNode>>(node_->value);
}
bool TomlItem::is_table() const {
  return present() && std::holds_alternative<TomlTableData>(node_->value);
}

void TomlItem::refuse(std::string_view expected, std::string hint) const {
  if (!present()) return;
  note(state_->wrong,
       Error{ErrorKind::unreadable,
             fmt::format("{} is {}; expected {}.", in_quotes(name_), describe(*node_), expected),
             state_->name, node_->line, node_->column, std::move(hint)});
}

std::optional<std::string> TomlItem::text() const {
  if (is_text()) return std::get<std::string>(node_->value);
  refuse("a text in quotes");
  return std::nullopt;
}

std::optional<bool> TomlItem::flag() const {
  if (present() && std::holds_alternative<bool>(node_->value)) return std::get<bool>(node_->value);
  refuse("true or false");
  return std::nullopt;
}

std::optional<double> TomlItem::number(NumberRange range) const {
  if (is_number()) {
    const double value = is_integer() ? static_cast<double>(std::get<std::int64_t>(node_->value))
                                      : std::get<double>(node_->value);
    if (std::isfinite(value) && range.least <= value && value <= range.most) return value;
  }
  refuse(bounds(range, "a number"));
  return std::nullopt;
}

std::optional<std::int64_t> TomlItem::integer(IntegerRange range) const {
  if (is_integer()) {
    const std::int64_t value = std::get<std::int64_t>(node_->value);
    if (range.least <= value && value <= range.most) return value;
  }
  refuse(bounds(range, "a whole number"));
  return std::nullopt;
}

std::optional<TomlTable> TomlItem::table() const {
  if (is_table()) return TomlTable(state_, node_);
  refuse("a table");
  return std::nullopt;
}

std::vector<TomlItem> TomlItem::items() const {
  std::vector<TomlItem> members;
  if (!is_array()) {
    refuse("a list in brackets");
    return members;
  }
  for (TomlNode& member : std::get<std::vector<TomlNode>>(node_->value)) {
    members.push_back(TomlItem(state_, &member, name_, table_line_));
  }
  return members;
}

std::vector<std::string> TomlItem::texts() const {
  std::vector<std::string> values;
  for (const TomlItem& item : items()) {
    if (auto value = item.text()) values.push_back(std::move(*value));
  }
  return values;
}

std::vector<std::int64_t> TomlItem::integers(IntegerRange range) const {
  std::vector<std::int64_t> values;
  for (const TomlItem& item : items()) {
    if (auto value = item.integer(range)) values.push_back(*value);
  }
  return values;
}

std::vector<TomlTable> TomlItem::tables() const {
  std::vector<TomlTable> members;
  if (is_table()) {
    members.push_back(TomlTable(state_, node_));
    return members;
  }
  for (const TomlItem& item : items()) {
    if (auto member = item.table()) members.push_back(*member);
  }
  return members;
}

int TomlItem::choice_index(const std::vector<std::string>& known) const {
  const std::string expected = fmt::format("one of \"{}\"", fmt::join(known, "\", \""));
  if (!is_text()) {
    refuse(expected);
    return -1;
  }
  const std::string& word = std::get<std::string>(node_->value);
  const auto found = std::find(known.begin(), known.end(), word);
  if (found != known.end()) return static_cast<int>(found - known.begin());
  const std::string near = nearest(word, known);
  refuse(expected, near.empty() ? "" : fmt::format("Did you mean \"{}\"?", near));
  return -1;
}

TomlItem TomlTable::operator[](std::string_view key) const {
  TomlTableData& data = table_of(*node_);
  if (std::find(data.asked.begin(), data.asked.end(), key) == data.asked.end()) {
    data.asked.emplace_back(key);
  }
  TomlNode* found = nullptr;
  for (TomlEntry& entry : data.entries) {
    if (entry.key != key) continue;
    entry.taken = true;
    found = &entry.node;
  }
  return TomlItem(state_, found, std::string(key), node_->line);
}

TomlItem TomlTable::needed(std::string_view key) const {
  TomlItem item = (*this)[key];
  if (!item.present()) {
    note(state_->missing,
         Error{ErrorKind::unreadable, fmt::format("{} is missing.", in_quotes(key)), state_->name,
               node_->line, 0, fmt::format("Add a line: {} = ...", key)});
  }
  return item;
}

std::vector<std::string> TomlTable::keys() const {
  std::vector<std::string> names;
  for (const TomlEntry& entry : table_of(*node_).entries) names.push_back(entry.key);
  return names;
}

void TomlTable::refuse_key(std::string_view key, std::string_view expected) const {
  for (TomlEntry& entry : table_of(*node_).entries) {
    if (entry.key != key) continue;
    entry.taken = true;
    note(state_->wrong,
         Error{ErrorKind::unreadable,
               fmt::format("{} cannot stand here; expected {}.", in_quotes(key), expected),
               state_->name, entry.line, entry.column, ""});
  }
}

int TomlTable::line() const { return node_->line; }

TomlDocument::TomlDocument(std::unique_ptr<TomlState> state) : state_(std::move(state)) {}
TomlDocument::TomlDocument(TomlDocument&&) noexcept = default;
TomlDocument& TomlDocument::operator=(TomlDocument&&) noexcept = default;
TomlDocument::~TomlDocument() = default;

Result<TomlDocument> TomlDocument::parse(std::string_view text, const std::string& name,
                                         const TomlLimits& limits) {
  if (text.size() > limits.bytes) {
    return Error{ErrorKind::too_large,
                 fmt::format("is larger than {} KB.", limits.bytes >> 10),
                 name,
                 0,
                 0,
                 "A file of this kind is a page or two."};
  }
  if (Status nesting = check_toml_nesting(text, name, limits); !nesting) return nesting.error();
  Result<TomlNode> root = parse_toml_tree(text, name, limits);
  if (!root) return root.error();
  auto state = std::make_unique<TomlState>();
  state->name = name;
  state->root = std::move(root).value();
  return TomlDocument(std::move(state));
}

Result<TomlDocument> TomlDocument::read(const std::string& path, const TomlLimits& limits) {
  const Result<std::string> text = read_file(path, limits.bytes);
  if (!text) return text.error();
  return parse(*text, path, limits);
}

TomlTable TomlDocument::root() { return TomlTable(state_.get(), &state_->root); }

Status TomlDocument::finish() const {
  std::vector<Error> wrong = state_->wrong;
  find_unknown(state_->root, state_->name, wrong);
  const std::vector<Error>& book = wrong.empty() ? state_->missing : wrong;
  const auto first = std::min_element(book.begin(), book.end(), [](const Error& a, const Error& b) {
    return std::tie(a.line, a.column) < std::tie(b.line, b.column);
  });
  if (first == book.end()) return {};
  return *first;
}

}  // namespace loftbeat
