#include "notate/key_guess.h"

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>

namespace loftbeat::notate {
namespace {

using Profile = std::array<double, 12>;
// Source: Krumhansl and Kessler 1982, from memory.
constexpr Profile kMajor = {6.35, 2.23, 3.48, 2.33, 4.38, 4.09, 2.52, 5.19, 2.39, 3.66, 2.29, 2.88};
constexpr Profile kMinor = {6.33, 2.68, 3.52, 5.38, 2.60, 3.53, 2.54, 4.75, 3.98, 2.69, 3.34, 3.17};
constexpr double kLastBass = 0.15;

double correlation(const Profile& sounds, const Profile& profile, int tonic) {
  double mean_a = 0, mean_b = 0;
  for (std::size_t i = 0; i < 12; ++i) mean_a += sounds[i] / 12, mean_b += profile[i] / 12;
  double ab = 0, aa = 0, bb = 0;
  for (std::size_t i = 0; i < 12; ++i) {
    const double a = sounds[(i + static_cast<std::size_t>(tonic)) % 12] - mean_a;
    const double b = profile[i] - mean_b;
    ab += a * b, aa += a * a, bb += b * b;
  }
  return aa > 0 ? ab / std::sqrt(aa * bb) : 0;
}

// Pitch class of the tonic.
int tonic_of(int fifths, bool minor) {
  const int major = ((7 * fifths) % 12 + 12) % 12;
  return minor ? (major + 9) % 12 : major;
}

int last_bass(const std::vector<music::Note>& notes) {
  const music::Note* last = &notes.front();
  for (const music::Note& note : notes)
    if (note.onset > last->onset || (note.onset == last->onset && note.pitch < last->pitch))
      last = &note;
  return last->pitch % 12;
}

// Major keys by fifths from -7.
constexpr std::array<const char*, 22> kNames = {"C flat",
                                                "G flat",
                                                "D flat",
                                                "A flat",
                                                "E flat",
                                                "B flat",
                                                "F",
                                                "C",
                                                "G",
                                                "D",
                                                "A",
                                                "E",
                                                "B",
                                                "F sharp",
                                                "C sharp",
                                                "G sharp",
                                                "D sharp",
                                                "A sharp",
                                                "E sharp",
                                                "B sharp",
                                                "F double sharp",
                                                "C double sharp"};

}  // namespace

KeyGuess guess_key(const std::vector<music::Note>& notes) {
  KeyGuess guess;
  if (notes.empty()) return guess;
  Profile sounds{};
  for (const music::Note& note : notes)
    sounds[static_cast<std::size_t>(note.pitch % 12)] += quarters(note.length);
  const int bass = last_bass(notes);
  double best = -10, second = -10;
  for (int fifths = -5; fifths <= 6; ++fifths)
    for (const bool minor : {false, true}) {
      const int tonic = tonic_of(fifths, minor);
      const double fit =
          correlation(sounds, minor ? kMinor : kMajor, tonic) + (tonic == bass ? kLastBass : 0);
      const music::KeyMark key{0, fifths, minor};
      if (fit > best) {
        second = best, guess.other = guess.key;
        best = fit, guess.key = key;
      } else if (fit > second) {
        second = fit, guess.other = key;
      }
    }
  guess.margin = std::clamp(best - second, 0.0, 1.0);
  return guess;
}

std::string key_name(const music::KeyMark& key) {
  const int index = std::clamp(key.fifths, -7, 7) + 7 + (key.minor ? 3 : 0);
  return std::string(kNames[static_cast<std::size_t>(index)]) + (key.minor ? " minor" : " major");
}

std::optional<music::KeyMark> key_from(const std::string& words) {
  std::string text;
  for (const char c : words)
    if (std::isspace(static_cast<unsigned char>(c)) == 0)
      text += static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  if (text.empty() || text[0] < 'a' || text[0] > 'g') return std::nullopt;
  constexpr std::array<int, 7> kFifths = {3, 5, 0, 2, 4, -1, 1};  // of A to G
  int fifths = kFifths[static_cast<std::size_t>(text[0] - 'a')];
  std::string_view rest = std::string_view(text).substr(1);
  const auto takes = [&rest](std::string_view word) {
    if (!rest.starts_with(word)) return false;
    rest.remove_prefix(word.size());
    return true;
  };
  if (takes("flat") || takes("b")) {
    fifths -= 7;
  } else if (takes("sharp") || takes("#")) {
    fifths += 7;
  }
  const bool minor = rest == "m" || rest == "minor" || rest == "min";
  if (!minor && !rest.empty() && rest != "major" && rest != "maj") return std::nullopt;
  if (minor) fifths -= 3;
  if (fifths < -7 || fifths > 7) return std::nullopt;
  return music::KeyMark{0, fifths, minor};
}

}  // namespace loftbeat::notate
