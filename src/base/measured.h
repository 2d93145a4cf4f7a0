#pragma once

#include <optional>
#include <string>
#include <utility>

namespace loftbeat {

// A figure, or the reason why there is none. Never 0 in place of the unknown.
template <typename T>
struct Measured {
  std::optional<T> value;
  std::string reason = "not measured";  // meaningful only while there is no value

  Measured() = default;
  Measured(T known) : value(std::move(known)), reason() {}
  [[nodiscard]] static Measured unknown(const std::string& why) {
    Measured m;
    m.reason = why;
    return m;
  }
  explicit operator bool() const { return value.has_value(); }
  // Requires a value.
  const T& operator*() const { return *value; }
  const T* operator->() const { return &*value; }
};

}  // namespace loftbeat
