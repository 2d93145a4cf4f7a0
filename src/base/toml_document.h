#pragma once

#include <cstdint>
#include <limits>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "base/result.h"

namespace loftbeat {

// The project's own small files (plan, church, organ, service, player) are TOML 1.0. This reader
// remembers the line of everything and keeps the book of errors, so that the code that reads a
// file says only what it wants:
//
//   auto document = TomlDocument::parse(text, "hymn.plan.toml");
//   if (!document) return document.error();
//   TomlTable root = document->root();
//   plan.title = root["title"].text().value_or("");
//   plan.tempo_bpm = root.needed("tempo").number({20, 300}).value_or(0);
//   for (TomlTable at : root["interlude"].tables()) { ... at["beats"].number() ... }
//   if (Status status = document->finish(); !status) return status.error();
//
// Getters never fail: an absent key and a wrong value both give nothing, and the wrong value is
// noted. `finish()` then returns the error that stands first in the file, be it a wrong value or
// a key that nobody asked for ("hymn.plan.toml:3:1: unknown key "tmepo". Did you mean "tempo"?").
// A needed key that is missing is told last, since a misspelt key is the likelier reason.
// Read everything before trusting anything: until finish() is good, values may be defaults.
//
// Handles (TomlTable, TomlItem) point into the document: they live no longer than it does.
// Not thread-safe; one thread reads one document.

struct TomlLimits {
  std::size_t bytes = 1u << 20;  // of the whole text
  int depth = 64;                // of tables and arrays within each other
  std::size_t values = 100'000;  // of everything that is not a table
};

// Bounds are inclusive. NaN and infinity are always refused.
struct NumberRange {
  double least = -std::numeric_limits<double>::max();
  double most = std::numeric_limits<double>::max();
};
struct IntegerRange {
  std::int64_t least = std::numeric_limits<std::int64_t>::min();
  std::int64_t most = std::numeric_limits<std::int64_t>::max();
};

struct TomlNode;   // private to base/toml*
struct TomlState;  // private to base/toml*
class TomlTable;

// One value of the file, or the place where it might have been.
class TomlItem {
 public:
  [[nodiscard]] bool present() const { return node_ != nullptr; }
  // Where the value stands, counted from 1; for an absent item, where its table begins.
  [[nodiscard]] int line() const;

  // What kind of value it is, for keys that take several kinds ("auto" or a number).
  [[nodiscard]] bool is_text() const;
  [[nodiscard]] bool is_number() const;  // whole or not
  [[nodiscard]] bool is_integer() const;
  [[nodiscard]] bool is_array() const;
  [[nodiscard]] bool is_table() const;

  // Nothing if absent or (noted) wrong.
  [[nodiscard]] std::optional<std::string> text() const;
  [[nodiscard]] std::optional<bool> flag() const;
  [[nodiscard]] std::optional<double> number(NumberRange range = {}) const;  // 3 counts as 3.0
  [[nodiscard]] std::optional<std::int64_t> integer(IntegerRange range = {}) const;
  [[nodiscard]] std::optional<TomlTable> table() const;

  // The members of an array. An absent item gives none; anything but an array is noted.
  [[nodiscard]] std::vector<TomlItem> items() const;
  [[nodiscard]] std::vector<std::string> texts() const;
  [[nodiscard]] std::vector<std::int64_t> integers(IntegerRange range = {}) const;
  // The members of an array of tables ([[name]]), or one single table as a list of one.
  [[nodiscard]] std::vector<TomlTable> tables() const;

  // One of several fixed words; a wrong word is noted with the nearest right one.
  template <typename Value>
  [[nodiscard]] std::optional<Value> choice(
      std::span<const std::pair<std::string_view, Value>> words) const {
    std::vector<std::string> known;
    for (const auto& [word, value] : words) known.emplace_back(word);
    const int found = choice_index(known);
    if (found < 0) return std::nullopt;
    return words[static_cast<std::size_t>(found)].second;
  }

  // Notes an error of the caller's own at this value: `"play-over" is 3; expected ...`. `expected`
  // completes the phrase "expected ..." without a full stop; `hint` is a whole sentence or empty.
  void refuse(std::string_view expected, std::string hint = {}) const;

 private:
  friend class TomlTable;
  friend class TomlDocument;
  TomlItem(TomlState* state, TomlNode* node, std::string name, int table_line)
      : state_(state), node_(node), name_(std::move(name)), table_line_(table_line) {}
  [[nodiscard]] int choice_index(const std::vector<std::string>& known) const;

  TomlState* state_;
  TomlNode* node_;  // null if absent
  std::string name_;
  int table_line_;
};

// A table of the file. Asking for a key makes it a known one.
class TomlTable {
 public:
  [[nodiscard]] TomlItem operator[](std::string_view key) const;
  // The same; a missing key is noted.
  [[nodiscard]] TomlItem needed(std::string_view key) const;
  // All keys as they stand in the file, for tables whose keys are data ([verse.3]).
  [[nodiscard]] std::vector<std::string> keys() const;
  // Notes `unknown key` for a key that is there, with `known` as what might have been meant.
  void refuse_key(std::string_view key, std::string_view expected) const;
  [[nodiscard]] int line() const;

 private:
  friend class TomlItem;
  friend class TomlDocument;
  TomlTable(TomlState* state, TomlNode* node) : state_(state), node_(node) {}
  TomlState* state_;
  TomlNode* node_;
};

class TomlDocument {
 public:
  // `name` is the file's name for messages. Errors: not TOML, not UTF-8, a limit exceeded.
  [[nodiscard]] static Result<TomlDocument> parse(std::string_view text, const std::string& name,
                                                  const TomlLimits& limits = {});
  // The same from a file.
  [[nodiscard]] static Result<TomlDocument> read(const std::string& path,
                                                 const TomlLimits& limits = {});

  TomlDocument(TomlDocument&&) noexcept;
  TomlDocument& operator=(TomlDocument&&) noexcept;
  ~TomlDocument();

  [[nodiscard]] TomlTable root();
  // Good if every value asked for was right and every key of the file was asked for.
  [[nodiscard]] Status finish() const;

 private:
  explicit TomlDocument(std::unique_ptr<TomlState> state);
  std::unique_ptr<TomlState> state_;
};

// A text as TOML writes it, quotes included: say "x" -> "say \"x\"". Control characters become
// \uXXXX, so the value is always one line. Bytes that are not UTF-8 become U+FFFD.
[[nodiscard]] std::string toml_text(std::string_view text);

// A number as TOML writes it, the shortest text that reads back as the same number: 3 -> "3",
// 0.1 -> "0.1", 1e300 -> "1e+300". Requires a finite number.
[[nodiscard]] std::string toml_number(double value);

}  // namespace loftbeat
