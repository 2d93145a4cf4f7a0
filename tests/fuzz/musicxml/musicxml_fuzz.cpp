// Any bytes as MusicXML or as compressed MusicXML: an error or a score that keeps its invariants,
// and that is read back the same from what is written of it.

#include <cstdint>
#include <string_view>

#include "../score_laws.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace loftbeat::music;
  const std::string_view bytes(reinterpret_cast<const char*>(data), size);
  laws::try_score(parse_musicxml(bytes, "fuzz.musicxml"));
  if (bytes.substr(0, 2) == "PK") laws::try_score(parse_mxl(bytes, "fuzz.mxl"));
  return 0;
}
