#pragma once

#include <string>

#include "music/score.h"

namespace loftbeat::music {

// Writes a score as MusicXML 4.0 partwise (UTF-8, one part on `staves` staves, repeats as played).
// parse_musicxml gives back the same Score: notes with voice and staff, bars, title, tune, poetic
// metre, keys, tempi, fermatas, phrases, words. Not the play-over, for which there is no place.
// Words whose note is not there are left out. What the file has no own place for stands in
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

// Writes a score as a Standard MIDI File of format 1: a first track with title, tune, metres, keys
// and tempi, then a track for each voice, on a channel of its own; 480 ticks a quarter, more where
// that would lose something. parse_smf_score gives back the same notes with their voices (voices by
// mean pitch where they lie otherwise), bars, upbeat, keys, title, tune and poetic metre, the tempo
// to a millionth of a quarter, and the words of the first verse with their lines.
//
// Not kept, since the format has no place for it: staves, fermatas, printed bar numbers, phrases
// without words, verses after the first, the play-over, rests after the last note; a short bar
// inside the tune comes back as a bar of another metre. Requires the invariants of Score. Pure.
[[nodiscard]] std::string format_smf_score(const Score& score);

}  // namespace loftbeat::music
