#pragma once

#include <string>

namespace loftbeat::app {

// `loftbeat export`, understood.
struct ExportOrder {
  std::string score_path;
  std::string to_path;  // ends with .musicxml, .xml or .mid; "-" writes MusicXML to standard output
};

// Whether the name says what to write.
[[nodiscard]] bool names_a_score_format(const std::string& path);

// Writes a score that Loftbeat reads as MusicXML or as a MIDI file; tells on standard error what
// such a file cannot keep of it. Returns the exit code.
int run_export(const ExportOrder& order);

}  // namespace loftbeat::app
