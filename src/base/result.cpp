#include "base/result.h"

#include <fmt/format.h>

namespace loftbeat {
namespace {

std::string place(const std::string& file, int line, int column) {
  if (file.empty()) return {};
  if (line <= 0) return file + ": ";
  if (column <= 0) return fmt::format("{}:{}: ", file, line);
  return fmt::format("{}:{}:{}: ", file, line, column);
}

}  // namespace

std::string to_string(const Error& error) {
  std::string text = place(error.file, error.line, error.column) + error.message;
  if (!error.hint.empty()) text += " " + error.hint;
  return text;
}

std::string to_string(const Notice& notice) {
  return place(notice.file, notice.line, 0) + notice.message;
}

}  // namespace loftbeat
