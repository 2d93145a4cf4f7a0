#pragma once

#include <cstddef>
#include <string>
#include <string_view>

#include "base/result.h"

namespace loftbeat {

// No input file may be larger than this.
inline constexpr std::size_t kMaxFileBytes = std::size_t{64} * 1024 * 1024;

// Reads a whole file. Errors: not there, not a plain file, not readable, or larger than
// `max_bytes` (found out by reading, so a false size or an endless device cannot fool it).
[[nodiscard]] Result<std::string> read_file(const std::string& path,
                                            std::size_t max_bytes = kMaxFileBytes);

// Where a file lies that another one names, seen from that one's folder. No file is looked at.
// Example: "../a.toml" in "parish/b/c.toml" -> "parish/a.toml"; absolute names stay.
[[nodiscard]] std::string path_beside(const std::string& name, const std::string& file);

// Writes a whole file through a temporary neighbour and a rename, so that a failure leaves the
// old contents untouched. "-" writes to standard output.
[[nodiscard]] Status write_file(const std::string& path, std::string_view contents);

}  // namespace loftbeat
