#include "music/abc_notes.h"

#include <limits>

namespace loftbeat::music {
namespace {

constexpr std::int64_t kMaxLengthPart = 9999;
constexpr std::size_t kMaxChordNotes = 64;
constexpr int kMaxOctaveMarks = 12;

// A length as a multiple of the unit, as written.
struct Multiple {
  std::int64_t over = 1;
  std::int64_t under = 1;
};

Multiple take_multiple(AbcCursor& cursor, AbcReport& report) {
  const std::size_t begin = cursor.offset();
  Multiple length;
  if (const auto number = cursor.take_number()) length.over = *number;
  while (cursor.take('/')) {
    const auto number = cursor.take_number();
    length.under *= number ? *number : 2;
    if (length.under < 1 || length.under > kMaxLengthPart) break;
  }
  if (length.over < 1 || length.over > kMaxLengthPart || length.under < 1 ||
      length.under > kMaxLengthPart) {
    report.fail(cursor.place_of(begin), "the length " + abc_shown(cursor.since(begin)) +
                                            " cannot be; expected one from 1/9999 to 9999 units.");
  }
  return length;
}

void require_not_too_long(std::int64_t time, AbcCursor& cursor, std::size_t begin,
                          AbcReport& report) {
  if (time <= kMaxBarQuarters * kTicksPerQuarter * kAbcTimePerTick) return;
  report.fail(cursor.place_of(begin), "the note is longer than 4096 quarter notes; expected less.",
              ErrorKind::too_large);
}

// "^", "^^", "_", "__", "=": semitones; nothing if none stands here.
std::optional<int> take_accidental(AbcCursor& cursor) {
  const char sign = cursor.peek();
  if (sign != '^' && sign != '_' && sign != '=') return std::nullopt;
  cursor.skip();
  if (sign == '=') return 0;
  int size = 1;
  if (cursor.take(sign)) ++size;
  return sign == '^' ? size : -size;
}

int take_octave(AbcCursor& cursor, bool low_letter) {
  int octave = low_letter ? 5 : 4;
  for (int marks = 0; marks < kMaxOctaveMarks; ++marks) {
    if (cursor.take('\'')) {
      ++octave;
    } else if (cursor.take(',')) {
      --octave;
    } else {
      break;
    }
  }
  return octave;
}

// Passes over what a chord may hold besides notes; false if nothing of it stands here.
bool pass_over_in_chord(AbcCursor& cursor, AbcReport& report) {
  const char c = cursor.peek();
  std::string_view inside;
  if (c == '"' || c == '!') {
    const std::size_t begin = cursor.offset();
    cursor.skip();
    if (!cursor.take_until(c, inside)) {
      report.fail(cursor.place_of(begin), "a text within the chord is left open; expected " +
                                              std::string(1, c) + " behind it.");
    }
    return true;
  }
  constexpr std::string_view kSigns = " \t().~`-zx";
  const bool symbol = (c >= 'H' && c <= 'W') || (c >= 'h' && c <= 'w');
  if (!symbol && (c == '\0' || kSigns.find(c) == kSigns.npos)) return false;
  cursor.skip();
  return true;
}

}  // namespace

bool at_abc_note(const AbcCursor& cursor) {
  const char c = cursor.peek();
  return c == '^' || c == '_' || c == '=' || abc_letter_index(c).has_value();
}

std::int64_t take_abc_length(AbcCursor& cursor, AbcFraction unit, AbcReport& report) {
  const std::size_t begin = cursor.offset();
  const Multiple length = take_multiple(cursor, report);
  // Whole notes of the numerator alone stay below 2^63: 2.9e10 times 9999 times 9999.
  const std::int64_t time = kAbcTimePerWhole / unit.under * unit.over * length.over / length.under;
  require_not_too_long(time, cursor, begin, report);
  return time;
}

AbcPitch take_abc_note(AbcCursor& cursor, AbcFraction unit, AbcReport& report) {
  const std::size_t begin = cursor.offset();
  AbcPitch pitch;
  pitch.accidental = take_accidental(cursor);
  const auto letter = abc_letter_index(cursor.peek());
  if (!letter) {
    report.fail(cursor.place_of(begin),
                "an accidental has no note behind it; expected a letter from A to G.");
  }
  pitch.letter = *letter;
  const bool low_letter = cursor.peek() >= 'a';
  cursor.skip();
  pitch.octave = take_octave(cursor, low_letter);
  pitch.time = take_abc_length(cursor, unit, report);
  pitch.tied = cursor.take('-');
  return pitch;
}

AbcEvent take_abc_chord(AbcCursor& cursor, AbcFraction unit, AbcReport& report) {
  AbcEvent chord;
  const std::size_t begin = cursor.offset();
  chord.at = cursor.place();
  cursor.skip();
  while (!cursor.take(']')) {
    if (at_abc_note(cursor)) {
      chord.pitches.push_back(take_abc_note(cursor, unit, report));
      if (chord.pitches.size() > kMaxChordNotes) {
        report.fail(chord.at, "the chord has more than 64 notes; expected fewer.",
                    ErrorKind::too_large);
      }
      continue;
    }
    if (!pass_over_in_chord(cursor, report)) {
      report.fail(cursor.at_end() ? cursor.place_of(begin) : cursor.place(),
                  cursor.at_end() ? "the chord is left open; expected ] on the same line."
                                  : "a chord holds " + abc_shown(cursor.rest().substr(0, 1)) +
                                        "; expected its notes and then ].");
    }
  }
  const std::size_t length = cursor.offset();
  const Multiple times = take_multiple(cursor, report);
  for (AbcPitch& pitch : chord.pitches) {
    pitch.time = pitch.time * times.over / times.under;
    require_not_too_long(pitch.time, cursor, length, report);
  }
  if (cursor.take('-')) {
    for (AbcPitch& pitch : chord.pitches) pitch.tied = true;
  }
  if (!chord.pitches.empty()) chord.time = chord.pitches.front().time;
  return chord;
}

}  // namespace loftbeat::music
