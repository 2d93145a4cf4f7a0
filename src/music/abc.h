#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "music/score.h"

namespace loftbeat::music {

// What a file of tunes in ABC notation holds.
struct AbcTune {
  int number = 0;     // of its X: field; 0 where the field has none
  std::string title;  // its first T: field, at most 400 bytes of UTF-8; may be empty
  int line = 1;       // where it begins
  friend bool operator==(const AbcTune&, const AbcTune&) = default;
};

// More tunes than this are refused.
inline constexpr std::size_t kMaxAbcTunes = 100'000;

// The tunes of a file in the order of the file. Nothing of their music is looked at, so that a
// broken tune does not hide the others. Errors: bytes that are no ABC at all (no X: and no K:
// field), text in UTF-16, more than kMaxAbcTunes tunes. Nothing is thrown. Pure; a megabyte takes
// some milliseconds.
[[nodiscard]] Result<std::vector<AbcTune>> list_abc_tunes(std::string_view bytes,
                                                          const std::string& name);

// Reads one tune: the first with that number, or the first of the file if none is given (a notice
// then tells how many there are). Source: The ABC Music Standard 2.1 (December 2011).
//
// Read: V: with clef, octave and transpose; %%score and %%staves; chords, ties, tuplets, broken
// rhythm, overlays (&), rests of several bars; K: with modes and accidentals of its own;
// accidentals to the end of the bar in all octaves (or as propagate-accidentals says); M: also
// within the tune, M:none; L:, Q:, U:; repeats, numbered endings and, as musicians take them, D.C.,
// D.S., fine and coda; fermatas, breath and phrase marks; w: and the verse numbers of w: and W:.
// Left out: grace notes, ornaments, staccato, chord symbols, text. Passed over with a notice: the
// order of P:, macros. Passed over silently: page layout and what is meant for one program
// (%%MIDI). UTF-8 or, where the bytes are not that, ISO-8859-1.
//
// Voices count from the top of the system down as in musicxml_voices.h, a voice on each staff of
// %%score; voices within one pair of parentheses share a staff. Bars of the voices are laid over
// each other one by one, or by time where that fits better (abc_align.h).
// A tie also reaches from before a repeat's first ending into the later ones.
//
// Lines of the text are those of w:, unless a word is cut there or, where the text is punctuated,
// it plainly runs on; a line also ends within w: where two verses or more all go on with a capital
// letter and one of them has a comma or the like before it. The play-over is what lies between
// the marks !sintro! and !eintro!.
//
// Example: "X:1\nM:3/4\nL:1/4\nK:F\nC|F2G|A3|]" is an upbeat bar "0" of one quarter (C4, key 60),
// then bars 1 and 2.
//
// Errors tell file, line, column (characters, from 1) and what was expected: a chord, a text or
// grace notes left open, an accidental without a note, a key, metre or length that cannot be read,
// signs that ABC does not have; notes beyond MIDI's 0 to 127; more than 64 voices, 8 overlays, 200
// verses, 250,000 bars, kMaxNotes notes or syllables, also once repeats are taken. What can be put
// up with is a notice. Nothing is thrown. Pure; a hymn of four parts takes a millisecond.
[[nodiscard]] Result<ReadScore> parse_abc(std::string_view bytes, const std::string& name,
                                          std::optional<int> number = std::nullopt);

// Whether the bytes are ABC: they begin with "%abc", or a line "X:" with a number, and later one
// with "K:", stand within the first 64 KB, and none of these bytes is 0.
[[nodiscard]] bool looks_like_abc(std::string_view bytes);

}  // namespace loftbeat::music
