// Whatever the bytes are: one error, or an index that comes back from its own text. The check sum
// is put right first, so that the fields behind it are reached too.

#include <cstdint>
#include <cstdlib>
#include <string>
#include <string_view>

#include "practice/hymn_index.h"

namespace loftbeat::practice {
namespace {

void check(std::string_view text) {
  const auto read = parse_hymn_index(text, "hymns.index");
  if (!read) {
    if (read.error().message.empty()) std::abort();
    return;
  }
  const auto back = parse_hymn_index(format_hymn_index(*read), "hymns.index");
  if (!back || *back != *read) std::abort();
}

// FNV-1a, as the format has it.
std::string with_check_sum(std::string_view text) {
  std::string whole(text);
  if (whole.empty() || whole.back() != '\n') whole += '\n';
  std::uint64_t sum = 14695981039346656037U;
  for (const char c : whole) sum = (sum ^ static_cast<unsigned char>(c)) * 1099511628211U;
  return whole + "end\t" + std::to_string(sum) + "\n";
}

}  // namespace
}  // namespace loftbeat::practice

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  loftbeat::practice::check(text);
  loftbeat::practice::check(loftbeat::practice::with_check_sum(text));
  return 0;
}
