#pragma once

#include <cstdlib>
#include <string>

#include <gtest/gtest.h>

namespace loftbeat::testing {

// Whether a command of the system answers. A missing one is a failure, unless
// LOFTBEAT_ALLOW_MISSING_TOOLS is set.
inline bool is_there(const std::string& probe, const char* package) {
  if (std::system((probe + " >/dev/null 2>&1").c_str()) == 0) return true;
  if (std::getenv("LOFTBEAT_ALLOW_MISSING_TOOLS") == nullptr) {
    ADD_FAILURE() << "Debian's " << package << " is missing";
  }
  return false;
}

}  // namespace loftbeat::testing
