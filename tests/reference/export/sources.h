#pragma once

#include <fstream>
#include <sstream>
#include <string>
#include <vector>

#include "music/music.h"

namespace loftbeat::music {

inline const std::string kExportFolder = LOFTBEAT_SOURCE_DIR "/tests/reference/export/";

// A score, and the name under which its export is kept.
struct ExportSource {
  std::string name;
  std::string path;
};

inline std::vector<ExportSource> export_sources() {
  std::ifstream file(kExportFolder + "sources.txt");
  std::vector<ExportSource> sources;
  for (std::string line; std::getline(file, line);) {
    if (line.empty() || line.front() == '#') continue;
    std::istringstream fields(line);
    ExportSource source;
    fields >> source.name >> source.path;
    source.path = std::string(LOFTBEAT_SOURCE_DIR "/") + source.path;
    sources.push_back(source);
  }
  return sources;
}

}  // namespace loftbeat::music
