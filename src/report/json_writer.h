#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "base/base.h"

namespace loftbeat::report {

// Writes JSON (RFC 8259) straight into one string, without a tree in between: a review holds one
// entry for each note played. It never writes NaN or infinity. What is unknown is written as null,
// and its reason goes into a member "unknown" that closes the same object:
//   {"steadiness_percent":null,"unknown":{"steadiness_percent":"fewer than 4 beats"}}
// Callers keep keys unique within an object and close what they open.
class JsonWriter {
 public:
  enum class Layout { flowing, one_item_a_line };

  void begin_object();
  void end_object();
  void begin_array(Layout layout = Layout::flowing);
  void end_array();

  // Keys are names of this project's own: no character in them needs escaping.
  void key(std::string_view name);

  void text(std::string_view value);  // any bytes; see clean_text
  void number(double value);          // shortest digits that give the same number back
  void integer(std::int64_t value);
  void boolean(bool value);
  void null();

  // Members of an object, key and value.
  void text(std::string_view name, std::string_view value);
  void integer(std::string_view name, std::int64_t value);
  void boolean(std::string_view name, bool value);
  // Nanoseconds rounded to whole microseconds, as seconds: 1.234567.
  void seconds(std::string_view name, Nanoseconds value);
  void seconds(std::string_view name, Instant value) { seconds(name, value.time_since_epoch()); }
  void quarters(std::string_view name, Tick value);
  // Rounded to six decimals; not finite is unknown.
  void figure(std::string_view name, double value);
  void figure(std::string_view name, const Measured<double>& value);
  void unknown(std::string_view name, std::string_view reason);

  [[nodiscard]] std::string take();

 private:
  struct Scope {
    bool empty = true;
    bool lines = false;
    std::vector<std::pair<std::string, std::string>> unknown = {};
  };
  void before_value();
  void open(char bracket, Scope scope);
  void close(char bracket);
  void quoted(std::string_view value);

  std::string out_;
  std::vector<Scope> scopes_;
  bool after_key_ = false;
};

}  // namespace loftbeat::report
