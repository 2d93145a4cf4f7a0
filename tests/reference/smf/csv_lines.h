#pragma once

#include <string>

#include "music/smf_file.h"

namespace loftbeat::music {

// A file as the lines that midicsv 1.1 prints for it (its manual page names the records), so that
// every event's track, tick and bytes can be compared.
[[nodiscard]] std::string csv_lines(const SmfFile& file);

}  // namespace loftbeat::music
