#pragma once

#include <string>
#include <string_view>

#include "music/score.h"

namespace loftbeat::music {

// Reads a score by what the file holds (not by its name alone): MusicXML 4.0 partwise, the same
// zipped (.mxl), or a Standard MIDI File.
[[nodiscard]] Result<ReadScore> read_score(const std::string& path);

// The same from bytes; `name` is for messages and, where the bytes do not tell, its ending counts.
[[nodiscard]] Result<ReadScore> parse_score(std::string_view bytes, const std::string& name);

[[nodiscard]] Result<ReadScore> parse_musicxml(std::string_view bytes, const std::string& name);
[[nodiscard]] Result<ReadScore> parse_mxl(std::string_view bytes, const std::string& name);
[[nodiscard]] Result<ReadScore> parse_smf_score(std::string_view bytes, const std::string& name);

}  // namespace loftbeat::music
