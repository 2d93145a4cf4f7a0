#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"

namespace loftbeat::plan {

// A `*.service.toml` lists the hymns of one service, in order. It is TOML 1.0:
//
//   title = "Evensong"              what it is; needed
//   date = "2026-11-29"             year, month, day; left out: any day
//   [[hymn]]                        one or more, at most 60
//   plan = "evening.plan.toml"      seen from the service's folder; needed. The same plan may stand
//                                   twice
//   number = "12"                   as on the hymn board; text or a number, at most 20 bytes
struct ServiceHymn {
  std::string plan_path;  // resolved against the service's folder
  std::string number;     // empty: none given
  int line = 0;           // of `plan`, for messages
  friend bool operator==(const ServiceHymn&, const ServiceHymn&) = default;
};
struct Service {
  std::string title;
  std::string date;  // "2026-11-29", a day that the calendar has; empty: any
  std::string file;
  std::vector<ServiceHymn> hymns;
};

// Errors name file and line: unknown keys with the nearest, a day that no calendar has, no hymn.
// Opens no plan.
[[nodiscard]] Result<Service> read_service(const std::string& path);
[[nodiscard]] Result<Service> parse_service(std::string_view text, const std::string& path);

}  // namespace loftbeat::plan
