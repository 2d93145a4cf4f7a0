#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace loftbeat::music {

// The text of an ABC file as UTF-8 without byte order mark: UTF-8 as it is, anything else as
// ISO-8859-1, and that too where %%abc-charset says so. Throws ReadFailure for UTF-16 and for text
// that holds NUL.
[[nodiscard]] std::string decode_abc_text(std::string_view bytes, const std::string& name);

// A text string of ABC as it is meant: accents (\'e), entities (&eacute; &#233;), code points
// (\u00e9) and escapes (\%) are resolved, white space becomes single spaces. What is not known
// stays as written. At most 400 bytes, cut at a whole character.
// Example: "Tis\\'ee  &amp; more" -> "Tisée & more".
[[nodiscard]] std::string plain_abc_text(std::string_view text);

// Without white space round it.
[[nodiscard]] std::string_view abc_trimmed(std::string_view text);

// The characters before byte `offset`, plus one: the column of that byte.
[[nodiscard]] int abc_column(std::string_view line, std::size_t offset);

// The whole of `text` as decimal digits, at most 9 of them; nothing otherwise.
[[nodiscard]] std::optional<int> abc_number(std::string_view text);

[[nodiscard]] inline bool is_abc_digit(char c) { return c >= '0' && c <= '9'; }
[[nodiscard]] inline bool is_abc_letter(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}
[[nodiscard]] inline bool is_abc_space(char c) { return c == ' ' || c == '\t'; }
[[nodiscard]] std::string abc_lower(std::string_view text);

}  // namespace loftbeat::music
