#include "report/json_writer.h"

#include <algorithm>
#include <cmath>
#include <iterator>

#include <fmt/format.h>

#include "report/utf8.h"

namespace loftbeat::report {
namespace {

bool needs_care(char c) {
  const auto byte = static_cast<unsigned char>(c);
  return byte < 0x20 || byte >= 0x7F || c == '"' || c == '\\';
}

// Six decimals at most, without zeros at the end; from 1e9 on the shortest exact form.
void append_rounded(std::string& out, double value) {
  if (std::abs(value) >= 1e9) {
    fmt::format_to(std::back_inserter(out), "{}", value);
    return;
  }
  const auto millionths = std::llround(value * 1e6);
  const auto magnitude = millionths < 0 ? -millionths : millionths;
  if (millionths < 0) out += '-';
  fmt::format_to(std::back_inserter(out), "{}", magnitude / 1'000'000);
  const auto rest = magnitude % 1'000'000;
  if (rest == 0) return;
  fmt::format_to(std::back_inserter(out), ".{:06}", rest);
  out.erase(out.find_last_not_of('0') + 1);
}

}  // namespace

void JsonWriter::before_value() {
  if (after_key_) {
    after_key_ = false;
    return;
  }
  if (scopes_.empty()) return;
  Scope& scope = scopes_.back();
  if (!scope.empty) out_ += ',';
  if (scope.lines) out_ += '\n';
  scope.empty = false;
}

void JsonWriter::open(char bracket, Scope scope) {
  before_value();
  out_ += bracket;
  scopes_.push_back(std::move(scope));
}

void JsonWriter::close(char bracket) {
  out_ += bracket;
  scopes_.pop_back();
}

void JsonWriter::begin_object() { open('{', {}); }

void JsonWriter::end_object() {
  const auto reasons = std::move(scopes_.back().unknown);
  if (!reasons.empty()) {
    key("unknown");
    begin_object();
    for (const auto& [name, reason] : reasons) text(name, reason);
    end_object();
  }
  close('}');
}

void JsonWriter::begin_array(Layout layout) {
  open('[', {true, layout == Layout::one_item_a_line});
}

void JsonWriter::end_array() { close(']'); }

void JsonWriter::key(std::string_view name) {
  before_value();
  out_ += '"';
  out_ += name;
  out_ += "\":";
  after_key_ = true;
}

void JsonWriter::quoted(std::string_view value) {
  for (const char c : value) {
    if (c == '"' || c == '\\') out_ += '\\';
    out_ += c;
  }
}

void JsonWriter::text(std::string_view value) {
  before_value();
  out_ += '"';
  if (std::any_of(value.begin(), value.end(), needs_care)) {
    quoted(clean_text(value));
  } else {
    out_ += value;
  }
  out_ += '"';
}

void JsonWriter::number(double value) {
  if (!std::isfinite(value)) return null();
  before_value();
  fmt::format_to(std::back_inserter(out_), "{}", value == 0 ? 0.0 : value);
}

void JsonWriter::integer(std::int64_t value) {
  before_value();
  const fmt::format_int digits(value);
  out_.append(digits.data(), digits.size());
}

void JsonWriter::boolean(bool value) {
  before_value();
  out_ += value ? "true" : "false";
}

void JsonWriter::null() {
  before_value();
  out_ += "null";
}

void JsonWriter::text(std::string_view name, std::string_view value) {
  key(name);
  text(value);
}

void JsonWriter::integer(std::string_view name, std::int64_t value) {
  key(name);
  integer(value);
}

void JsonWriter::boolean(std::string_view name, bool value) {
  key(name);
  boolean(value);
}

void JsonWriter::seconds(std::string_view name, Nanoseconds value) {
  figure(name, loftbeat::seconds(value));
}

void JsonWriter::quarters(std::string_view name, Tick value) {
  key(name);
  if (value % kTicksPerQuarter == 0) {
    integer(value / kTicksPerQuarter);
  } else {
    number(loftbeat::quarters(value));
  }
}

void JsonWriter::figure(std::string_view name, double value) {
  if (!std::isfinite(value)) return unknown(name, "not a finite number");
  key(name);
  before_value();
  append_rounded(out_, value);
}

void JsonWriter::figure(std::string_view name, const Measured<double>& value) {
  if (!value) return unknown(name, value.reason);
  figure(name, *value);
}

void JsonWriter::unknown(std::string_view name, std::string_view reason) {
  key(name);
  null();
  scopes_.back().unknown.emplace_back(name, reason.empty() ? "not measured" : reason);
}

std::string JsonWriter::take() {
  out_ += '\n';
  return std::move(out_);
}

}  // namespace loftbeat::report
