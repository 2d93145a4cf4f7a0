#pragma once

#include <string_view>

#include "music/musicxml_document.h"
#include "music/musicxml_written.h"

namespace loftbeat::music {

// Reads the whole tree: parts in order, bars combined, voices assigned. Throws ReadFailure.
[[nodiscard]] WrittenScore read_written_score(MusicXmlDocument& document);

// Names of the <miscellaneous-field> by which format_musicxml keeps what MusicXML has no place for.
inline constexpr const char* kVoicesField = "loftbeat-voices";  // "as numbered"
// Begins the id of a note whose voice is another than its <voice>, "loftbeat-voice-5.123".
inline constexpr std::string_view kOwnVoiceId = "loftbeat-voice-";
inline constexpr const char* kTuneField = "tune";               // the tune's name
inline constexpr const char* kMetreField = "metre";             // of the words
inline constexpr const char* kVersesField = "loftbeat-verses";  // number of verses with text

}  // namespace loftbeat::music
