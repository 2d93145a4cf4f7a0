#pragma once

#include <string>
#include <string_view>

#include "music/score.h"

namespace loftbeat::music {

// Reads a score by what the file holds (not by its name alone): MusicXML 4.0 partwise, the same
// zipped (.mxl), ABC 2.1 (abc.h), or a Standard MIDI File. Behind the name of an ABC file that
// holds several tunes, "#" and a number choose the one with that X: number ("tunes.abc#3"), unless
// a file has just that name; without it the first tune is read.
[[nodiscard]] Result<ReadScore> read_score(const std::string& path);

// The same from bytes; `name` is for messages and, where the bytes do not tell, its ending counts.
[[nodiscard]] Result<ReadScore> parse_score(std::string_view bytes, const std::string& name);

// MusicXML 4.0 partwise. What sounds is read: repeats, endings, D.C. and D.S. (as <sound> has
// them) are laid out, ties merged, transposing parts sounded; grace, cue and unpitched notes are
// left out. UTF-8, UTF-16 and ISO-8859-1.
//
// Voices count from the top of the system down: by part, staff, then mean pitch; the notes of a
// chord are voices of their own, so that a hymn of two-note chords on two staves has 0 soprano,
// 1 alto, 2 tenor, 3 bass (the whole rule: musicxml_voices.h). Phrases come from the first of
// these that gives two or more: line ends of the text, fermatas, breath marks, double bars.
//
// Errors name file, line and what was expected: XML that is broken, nested deeper than 64 or
// declares entities; timewise scores; numbers out of range; more than 4,000,000 elements,
// 200 verses, 100,000 bars or kMaxNotes notes once repeats are taken. What can be put up with (an
// unreadable tempo, a part that is too short) is a notice. Nothing is thrown. Example of cost:
// 400 bars in four parts take some tens of milliseconds.
[[nodiscard]] Result<ReadScore> parse_musicxml(std::string_view bytes, const std::string& name);

// The same from a zip archive: the score that META-INF/container.xml names, else, with a notice,
// the first .musicxml or .xml in it. At most 256 MB are unpacked, counted as they come.
[[nodiscard]] Result<ReadScore> parse_mxl(std::string_view bytes, const std::string& name);

// A Standard MIDI File as a score; see smf_file.h.
[[nodiscard]] Result<ReadScore> parse_smf_score(std::string_view bytes, const std::string& name);

}  // namespace loftbeat::music
