#pragma once

#include <cstdio>
#include <cstdlib>
#include <memory>
#include <optional>
#include <string>

namespace loftbeat {

// What a command prints, or nothing if it cannot be run or fails.
inline std::optional<std::string> output_of(const std::string& command) {
  struct Close {
    void operator()(std::FILE* pipe) const { ::pclose(pipe); }
  };
  std::unique_ptr<std::FILE, Close> pipe(::popen((command + " 2>/dev/null").c_str(), "r"));
  if (!pipe) return std::nullopt;
  std::string text;
  char block[4096];
  for (std::size_t n = 0; (n = std::fread(block, 1, sizeof block, pipe.get())) > 0;) {
    text.append(block, n);
  }
  if (::pclose(pipe.release()) != 0) return std::nullopt;
  return text;
}

// A missing tool fails a test unless this is set on purpose.
inline bool may_miss_tools() { return std::getenv("LOFTBEAT_ALLOW_MISSING_TOOLS") != nullptr; }

}  // namespace loftbeat
