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

// Writes a whole file through a temporary neighbour and a rename, so that a failure leaves the
// old contents untouched. "-" writes to standard output.
[[nodiscard]] Status write_file(const std::string& path, std::string_view contents);

}  // namespace loftbeat
