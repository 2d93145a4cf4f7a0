// Whatever the bytes are: one error with its line, or beats in order of time that come back from
// their own text.

#include <cstdint>
#include <cstdlib>
#include <string_view>

#include "crowd/crowd_record.h"

namespace loftbeat::crowd {
namespace {

void check(std::string_view text) {
  const auto read = parse_crowd(text, "people.beats");
  if (!read) {
    if (read.error().message.empty() || read.error().line < 1) std::abort();
    return;
  }
  const CrowdRecord& record = read->record;
  for (std::size_t i = 1; i < record.beats.size(); ++i)
    if (record.beats[i].sung < record.beats[i - 1].sung) std::abort();
  const auto back = parse_crowd(format_crowd(record), "people.beats");
  if (!back || !back->notices.empty() || back->record.beats != record.beats) std::abort();
}

}  // namespace
}  // namespace loftbeat::crowd

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  loftbeat::crowd::check({reinterpret_cast<const char*>(data), size});
  return 0;
}
