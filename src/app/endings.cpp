#include "app/endings.h"

#include <cstdio>
#include <utility>

#include "report/report.h"

namespace loftbeat::app {

int exit_code(const Error& error) {
  switch (error.kind) {
    case ErrorKind::wrong_use: return kWrongUse;
    case ErrorKind::unreadable:
    case ErrorKind::too_large: return kUnreadable;
    case ErrorKind::no_fit: return kNoFit;
    case ErrorKind::failed: break;
  }
  return kFailed;
}

int fail(const Error& error) {
  const std::string line = "loftbeat: " + report::clean_text(to_string(error)) + "\n";
  std::fputs(line.c_str(), stderr);
  return exit_code(error);
}

Error wrong_use(std::string message, std::string hint) {
  return {ErrorKind::wrong_use, std::move(message), "", 0, 0, std::move(hint)};
}

}  // namespace loftbeat::app
