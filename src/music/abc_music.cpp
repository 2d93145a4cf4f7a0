#include "music/abc_music.h"

#include "music/abc_bar_line.h"
#include "music/abc_notes.h"

namespace loftbeat::music {
namespace {

constexpr int kMaxTupletPart = 99;
constexpr int kMaxBrokenSize = 6;
constexpr int kMaxRestBars = 1000;
constexpr std::size_t kMaxDecorationBytes = 40;

// In the time of how many notes a tuplet is played that does not say so.
// Source: ABC 2.1, section 4.13.
int usual_time(int notes, const AbcMetre& metre) {
  switch (notes) {
    case 2:
    case 4:
    case 8: return 3;
    case 3:
    case 6: return 2;
    default: return metre.compound() ? 3 : 2;
  }
}

}  // namespace

void AbcMusic::line(std::string_view text, int number) {
  AbcCursor cursor(text, number);
  while (!cursor.at_end()) take(cursor);
}

void AbcMusic::take(AbcCursor& cursor) {
  if (take_sounding(cursor) || take_structure(cursor) || take_bracket(cursor) ||
      take_decoration(cursor) || take_ornament(cursor)) {
    return;
  }
  // Signs that the standard keeps for later, and the end of a line that goes on.
  constexpr std::string_view kSilent = " \t\r`)*;?@#$\\";
  if (kSilent.find(cursor.peek()) == kSilent.npos) tell_stray(cursor);
  cursor.skip();
}

void AbcMusic::tell_stray(AbcCursor& cursor) {
  std::size_t length = 1;
  while ((static_cast<unsigned char>(cursor.peek(length)) & 0xC0) == 0x80) ++length;
  if (report_.full()) {
    report_.count_one_more();
  } else {
    const AbcPlace at = cursor.place();
    report_.put_up_with(at, abc_shown(cursor.rest().substr(0, length)) +
                                " has no meaning in column " + std::to_string(at.column) +
                                "; expected a note or a bar line; it is passed over");
  }
  cursor.skip(length - 1);
}

bool AbcMusic::take_sounding(AbcCursor& cursor) {
  if (at_abc_note(cursor)) {
    AbcEvent event;
    event.at = cursor.place();
    event.pitches.push_back(take_abc_note(cursor, voice().unit, report_));
    event.time = event.pitches.front().time;
    voice().strike(std::move(event));
    return true;
  }
  const char c = cursor.peek();
  if (c != 'z' && c != 'x' && c != 'Z' && c != 'X') return false;
  take_rest(cursor);
  return true;
}

void AbcMusic::take_rest(AbcCursor& cursor) {
  const AbcPlace at = cursor.place();
  const char kind = cursor.peek();
  cursor.skip();
  if (kind == 'Z' || kind == 'X') {
    const int bars = cursor.take_number().value_or(1);
    if (bars < 1 || bars > kMaxRestBars) {
      report_.fail(at, "the rest lasts for bars that cannot be counted; expected 1 to 1000.");
    }
    voice().rest_bars(bars, at);
    return;
  }
  AbcEvent rest;
  rest.at = at;
  rest.time = take_abc_length(cursor, voice().unit, report_);
  voice().strike(std::move(rest));
}

bool AbcMusic::take_structure(AbcCursor& cursor) {
  if (at_abc_bar_line(cursor)) {
    const AbcPlace at = cursor.place();
    voice().bar_line(take_abc_bar_line(cursor, report_), at);
    return true;
  }
  const AbcPlace at = cursor.place();
  switch (cursor.peek()) {
    case '(':
      if (is_abc_digit(cursor.peek(1))) {
        take_tuplet(cursor);
      } else {
        cursor.skip();  // a slur
      }
      return true;
    case '<':
    case '>': take_broken_rhythm(cursor); return true;
    case '&':
      cursor.skip();
      voice().begin_overlay(at);
      return true;
    case '-':
      cursor.skip();
      voice().tie_last();
      return true;
    case 'y':
      cursor.skip();
      cursor.take_number();
      return true;
    default: return false;
  }
}

void AbcMusic::take_tuplet(AbcCursor& cursor) {
  const AbcPlace at = cursor.place();
  cursor.skip();
  const int notes = *cursor.take_number();
  std::optional<int> in_time_of;
  std::optional<int> over;
  if (cursor.take(':')) {
    in_time_of = cursor.take_number();
    if (cursor.take(':')) over = cursor.take_number();
  }
  const int time = in_time_of.value_or(usual_time(notes, voice().metre()));
  const int count = over.value_or(notes);
  const auto possible = [](int n) { return n >= 1 && n <= kMaxTupletPart; };
  if (!possible(notes) || !possible(time) || !possible(count)) {
    report_.fail(at, "the tuplet cannot be played; expected numbers from 1 to 99, as in (3:2:3.");
  }
  voice().begin_tuplet(notes, time, count, at);
}

void AbcMusic::take_broken_rhythm(AbcCursor& cursor) {
  const AbcPlace at = cursor.place();
  const char sign = cursor.peek();
  int size = 0;
  while (cursor.take(sign)) ++size;
  if (size > kMaxBrokenSize) {
    report_.fail(at, "the rhythm is broken too often; expected " + std::string(1, sign) +
                         " 6 times at most.");
  }
  voice().break_rhythm(sign == '>' ? size : -size, at);
}

bool AbcMusic::take_bracket(AbcCursor& cursor) {
  if (cursor.peek() != '[') return false;
  const std::size_t begin = cursor.offset();
  AbcBarLine ending;
  if (take_abc_ending(cursor, report_, ending.ending)) {
    voice().bar_line(ending, cursor.place_of(begin));
    return true;
  }
  if (is_abc_letter(cursor.peek(1)) && cursor.peek(2) == ':') {
    const char letter = cursor.peek(1);
    cursor.skip(3);
    const AbcPlace at = cursor.place();
    std::string_view text;
    if (!cursor.take_until(']', text)) {
      report_.fail(cursor.place_of(begin), "the field is left open; expected ] on the same line.");
    }
    settings_.body_field(letter, text, at);
    return true;
  }
  AbcEvent chord = take_abc_chord(cursor, voice().unit, report_);
  if (chord.pitches.empty()) {
    report_.put_up_with(chord.at, "the chord has no notes; it is passed over");
  } else {
    voice().strike(std::move(chord));
  }
  return true;
}

void AbcMusic::pass_over(AbcCursor& cursor, char end, const char* what) {
  const std::size_t begin = cursor.offset();
  cursor.skip();
  std::string_view inside;
  if (cursor.take_until(end, inside)) {
    // \" within a text does not end it, unless nothing else does.
    AbcCursor ahead = cursor;
    while (end == '"' && !inside.empty() && inside.back() == '\\') {
      if (!ahead.take_until(end, inside)) return;
      cursor = ahead;
    }
    return;
  }
  report_.fail(cursor.place_of(begin), std::string(what) + " left open; expected " +
                                           std::string(1, end) + " on the same line.");
}

// !name!, the older +name+, and ! alone, which once ended a printed line.
bool AbcMusic::take_decoration(AbcCursor& cursor) {
  const char sign = cursor.peek();
  if (sign != '!' && sign != '+') return false;
  cursor.skip();
  AbcCursor ahead = cursor;
  std::string_view name;
  const bool named = ahead.take_until(sign, name) && !name.empty() && !is_abc_space(name.front()) &&
                     name.size() <= kMaxDecorationBytes && name.find('|') == name.npos;
  if (!named) return true;
  cursor.skip(name.size() + 1);
  if (const auto mark = abc_decoration(name)) voice().mark(*mark);
  return true;
}

// Grace notes, texts, and the letters that stand for decorations.
bool AbcMusic::take_ornament(AbcCursor& cursor) {
  const char c = cursor.peek();
  if (c == '{') {
    pass_over(cursor, '}', "grace notes are");
    return true;
  }
  if (c == '"') {
    pass_over(cursor, '"', "a text is");
    return true;
  }
  const bool symbol = (c >= 'H' && c <= 'W') || (c >= 'h' && c <= 'w') || c == '~' || c == '.';
  if (!symbol) return false;
  cursor.skip();
  if (const auto mark = settings_.symbols().find(c)) voice().mark(*mark);
  return true;
}

}  // namespace loftbeat::music
