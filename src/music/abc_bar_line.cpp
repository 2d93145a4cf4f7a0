#include "music/abc_bar_line.h"

#include <algorithm>

namespace loftbeat::music {
namespace {

constexpr int kMaxEndingNumber = 99;
constexpr int kMaxColons = 8;

// "1", "1,3", "1-3"; digits stand here.
std::vector<int> take_ending_numbers(AbcCursor& cursor, AbcReport& report) {
  std::vector<int> numbers;
  const AbcPlace at = cursor.place();
  while (const auto first = cursor.take_number()) {
    int last = *first;
    if (cursor.peek() == '-' && is_abc_digit(cursor.peek(1))) {
      cursor.skip();
      last = *cursor.take_number();
    }
    if (*first < 1 || last < *first || last > kMaxEndingNumber) {
      report.fail(at, "the ending's number cannot be; expected numbers from 1 to 99.");
    }
    for (int n = *first; n <= last && numbers.size() < kMaxEndingNumber; ++n) numbers.push_back(n);
    const bool more =
        (cursor.peek() == ',' || cursor.peek() == '.') && is_abc_digit(cursor.peek(1));
    if (!more) break;
    cursor.skip();
  }
  if (cursor.peek() == '.') cursor.skip();  // "1."
  std::sort(numbers.begin(), numbers.end());
  return numbers;
}

}  // namespace

bool at_abc_bar_line(const AbcCursor& cursor) {
  const char next = cursor.peek(1);
  switch (cursor.peek()) {
    case '|': return true;
    case ':': return next == '|' || next == ':' || next == ']';
    case '[':
    case '.': return next == '|';
    default: return false;
  }
}

AbcBarLine take_abc_bar_line(AbcCursor& cursor, AbcReport& report) {
  if (cursor.peek() == '.') cursor.skip();
  int before = 0;
  int after = 0;
  int lines = 0;
  bool thick = false;
  while (!cursor.at_end()) {
    const char c = cursor.peek();
    const char next = cursor.peek(1);
    if (c == '|') {
      ++lines;
    } else if (c == ':') {
      ++(lines == 0 ? before : after);
    } else if (c == ']' || (c == '[' && (next == '|' || next == ']'))) {
      thick = true;
      if (c == ']' && lines == 0) ++lines;
    } else {
      break;
    }
    cursor.skip();
  }
  if (lines == 0) {  // "::" parts its colons
    after = before / 2;
    before -= after;
  }
  AbcBarLine line;
  if (before > 0) line.backward = std::min(before, kMaxColons) + 1;
  line.forward = after > 0;
  line.doubled = lines > 1 || thick;
  if (is_abc_digit(cursor.peek())) line.ending = take_ending_numbers(cursor, report);
  return line;
}

bool take_abc_ending(AbcCursor& cursor, AbcReport& report, std::vector<int>& ending) {
  if (cursor.peek() != '[' || !is_abc_digit(cursor.peek(1))) return false;
  cursor.skip();
  ending = take_ending_numbers(cursor, report);
  return true;
}

}  // namespace loftbeat::music
