#pragma once

// The hymns of the demo parish, read from sessions/.

#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "music/read.h"

namespace loftbeat {

[[nodiscard]] inline std::string parish_file(const std::string& name) {
  return std::string(LOFTBEAT_SOURCE_DIR) + "/sessions/quaverham/" + name;
}

[[nodiscard]] inline music::Score parish_score(const std::string& name) {
  auto read = music::read_score(parish_file(name + ".musicxml"));
  if (!read) {
    ADD_FAILURE() << to_string(read.error());
    return {};
  }
  for (const Notice& notice : read->notices) ADD_FAILURE() << to_string(notice);
  return std::move(read).value().score;
}

// The notes of one voice in time.
[[nodiscard]] inline std::vector<music::Note> voice_of(const music::Score& score, int voice) {
  std::vector<music::Note> notes;
  for (const music::Note& note : score.notes) {
    if (note.voice == voice) notes.push_back(note);
  }
  return notes;
}

}  // namespace loftbeat
