#pragma once

#include "music/musicxml_document.h"
#include "music/musicxml_written.h"

namespace loftbeat::music {

// What a <direction>, or a <sound> by itself, says about tempo and order of playing.
struct DirectionFacts {
  std::optional<double> quarters_per_minute;
  RepeatSigns signs;
  std::int64_t offset = 0;  // thousandths of a division, may be negative
};

// The tempo is that of <sound>; failing that, of <metronome>, from the first number of its text
// ("ca. 72" is 72, "72-80" too). Figures outside 3 to 10000 quarters a minute are passed over with
// a notice.
[[nodiscard]] DirectionFacts read_direction(MusicXmlDocument& document, pugi::xml_node direction);

// Takes the signs of a <barline> into the bar; `at` is where it stands if it is in the middle.
void read_barline(MusicXmlDocument& document, pugi::xml_node barline, Tick at, WrittenBar& bar);

}  // namespace loftbeat::music
