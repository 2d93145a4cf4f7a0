#include "organ/instrument.h"

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>
#include <string_view>

namespace loftbeat::organ {
namespace {

std::string_view rank_word(Family family) {
  const auto* word = std::find_if(kFamilyWords.begin(), kFamilyWords.end(),
                                  [&](const auto& one) { return one.second == family; });
  return word == kFamilyWords.end() ? kFamilyWords.front().first : word->first;
}

}  // namespace

std::string full_name(const Organ& organ, const Stop& stop) {
  return organ.divisions[stop.division].name + " " + stop.name + " " + stop.pitch;
}

std::optional<std::size_t> division_of(const Organ& organ, int channel, int key) {
  std::optional<std::size_t> found;
  if (organ.split && organ.split->channel == channel) {
    found = key < organ.split->key ? organ.split->below : organ.split->above;
  }
  for (std::size_t d = 0; d < organ.divisions.size() && !found; ++d) {
    if (organ.divisions[d].channel == channel) found = d;
  }
  if (found && !organ.divisions[*found].has_key(key)) return std::nullopt;
  return found;
}

std::string usual_rank(Family family, const std::string& pitch) {
  std::string name(rank_word(family));
  name += '-';
  for (const char c : pitch) {
    const bool gap = c == ' ' || c == '/';
    name += gap ? '-' : static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  }
  return name;
}

std::optional<int> octaves_up(double stop_feet, double rank_feet) {
  if (stop_feet <= 0 || rank_feet <= 0) return 0;
  const double octaves = std::log2(rank_feet / stop_feet);
  const double whole = std::round(octaves);
  // Foot pitches are written as fractions; an octave off by more than this is another interval.
  if (std::abs(octaves - whole) > 1e-6) return std::nullopt;
  return static_cast<int>(whole);
}

}  // namespace loftbeat::organ
