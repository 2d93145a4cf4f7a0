// Any bytes as ABC: an error or a score that keeps its invariants, and that is read back the same
// from what is written of it; each tune of the list alone as well.

#include <cstdint>
#include <string_view>

#include "../score_laws.h"
#include "music/abc.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace loftbeat::music;
  const std::string_view bytes(reinterpret_cast<const char*>(data), size);
  const auto tunes = list_abc_tunes(bytes, "fuzz.abc");
  laws::try_score(parse_abc(bytes, "fuzz.abc"));
  if (!tunes) return 0;
  laws::require(!tunes->empty());
  for (std::size_t i = 0; i < tunes->size() && i < 4; ++i) {
    const auto read = parse_abc(bytes, "fuzz.abc", (*tunes)[i].number);
    laws::try_score(read);
    if (!read) laws::require(read.error().file == "fuzz.abc");
  }
  return 0;
}
