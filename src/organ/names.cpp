#include "organ/names.h"

#include <cctype>

namespace loftbeat::organ {

std::string plain(std::string_view name) {
  constexpr std::string_view kPrime = "\xE2\x80\xB2";
  constexpr std::string_view kQuote = "\xE2\x80\x99";
  std::string text;
  text.reserve(name.size());
  for (std::size_t at = 0; at < name.size(); ++at) {
    const std::string_view rest = name.substr(at, kPrime.size());
    if (rest == kPrime || rest == kQuote) {
      at += kPrime.size() - 1;
      continue;
    }
    const auto c = static_cast<unsigned char>(name[at]);
    if (c == '\'') continue;
    if (c == ' ' || c == '\t') {
      if (!text.empty() && text.back() != ' ') text += ' ';
    } else {
      text += c < 0x80 ? static_cast<char>(std::tolower(c)) : name[at];
    }
  }
  if (!text.empty() && text.back() == ' ') text.pop_back();
  return text;
}

}  // namespace loftbeat::organ
