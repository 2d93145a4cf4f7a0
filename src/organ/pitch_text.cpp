#include <array>
#include <charconv>
#include <cmath>
#include <string_view>

#include "organ/read.h"

namespace loftbeat::organ {
namespace {

std::optional<int> whole(std::string_view text) {
  int value = 0;
  const auto [end, failure] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (failure != std::errc() || end != text.data() + text.size()) return std::nullopt;
  return value;
}

// Semitones of C D E F G A B above C; the letters from A on.
constexpr std::array<int, 7> kSemitone = {9, 11, 0, 2, 4, 5, 7};

std::optional<double> fraction(std::string_view text) {
  const std::size_t slash = text.find('/');
  const auto above = whole(text.substr(0, slash));
  if (!above || *above < 0) return std::nullopt;
  if (slash == std::string_view::npos) return *above;
  const auto below = whole(text.substr(slash + 1));
  if (!below || *below < 1) return std::nullopt;
  return static_cast<double>(*above) / *below;
}

}  // namespace

std::optional<int> key_from_text(std::string_view text) {
  if (text.empty()) return std::nullopt;
  int key = 0;
  const char letter = static_cast<char>(text.front() & ~0x20);
  if (letter >= 'A' && letter <= 'G') {
    std::size_t at = 1;
    int shift = 0;
    if (text.size() > 1 && (text[1] == '#' || text[1] == 'b')) {
      shift = text[1] == '#' ? 1 : -1;
      at = 2;
    }
    const auto octave = whole(text.substr(at));
    if (!octave || *octave < -1 || *octave > 9) return std::nullopt;
    key = (*octave + 1) * 12 + kSemitone[static_cast<std::size_t>(letter - 'A')] + shift;
  } else {
    const auto number = whole(text);
    if (!number) return std::nullopt;
    key = *number;
  }
  if (key < 0 || key > 127) return std::nullopt;
  return key;
}

std::optional<double> feet_from_text(std::string_view text) {
  if (!text.empty() && text.back() == '\'') text.remove_suffix(1);
  const std::size_t gap = text.find(' ');
  auto feet = fraction(text.substr(0, gap));
  if (feet && gap != std::string_view::npos) {
    const auto part = fraction(text.substr(gap + 1));
    if (!part || *part >= 1) return std::nullopt;
    *feet += *part;
  }
  if (!feet || *feet < 0.125 || *feet > 128) return std::nullopt;
  return feet;
}

std::string key_text(int key) {
  constexpr std::array<const char*, 12> kNames = {"C",  "C#", "D",  "D#", "E",  "F",
                                                  "F#", "G",  "G#", "A",  "A#", "B"};
  return kNames[static_cast<std::size_t>(key % 12)] + std::to_string(key / 12 - 1);
}

}  // namespace loftbeat::organ
