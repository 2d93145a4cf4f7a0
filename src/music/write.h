#pragma once

#include <string>

#include "music/score.h"

namespace loftbeat::music {

// Writes a score as MusicXML 4.0 partwise (UTF-8, one part on `staves` staves, repeats as played).
// parse_musicxml gives back the same Score: notes with voice and staff, bars, title, keys, tempi,
// fermatas, phrases, number of verses. What the file has no own place for stands in
// <miscellaneous-field>: that voices are as numbered, and the number of verses.
//
// Phrases are written as what they were taken from: line ends of the text (also for phrases that a
// plan stated, which are then read back as lyric_lines), fermatas, breath marks or double bars.
// Notes are divided at bar lines, and into values that can be written, with ties between. Pitches
// are spelt by the key in force. Where one voice strikes a key again that it still holds, over a
// bar line, the two notes may come back with their ends exchanged. A fermata where neither note nor
// rest begins is left out. Requires the invariants of Score. Pure; a thousand bars take some ten
// milliseconds.
[[nodiscard]] std::string format_musicxml(const Score& score);

}  // namespace loftbeat::music
