#pragma once

#include "music/musicxml_document.h"
#include "music/musicxml_written.h"

namespace loftbeat::music {

// A <note> by itself, before its place in the bar, the divisions and the transposition are known.
struct NoteFacts {
  enum class Kind { sounding, rest, bar_rest, silent };  // silent: cue or unpitched
  Kind kind = Kind::sounding;
  bool chord = false;
  std::int64_t thousandths = 0;  // of a division; 0 only for a bar_rest without <duration>
  int written_pitch = 60;        // before transposition; may be outside 0 to 127
  std::string voice = "1";
  int staff = 0;
  bool tie_start = false;
  bool tie_stop = false;
  bool fermata = false;
  bool breath = false;
  std::uint32_t times = ~std::uint32_t{0};
  std::vector<WrittenLyric> lyrics;  // their `note` is not set
};

// Nothing for a grace note. Throws ReadFailure.
[[nodiscard]] std::optional<NoteFacts> read_note(const MusicXmlDocument& document,
                                                 pugi::xml_node note);

}  // namespace loftbeat::music
