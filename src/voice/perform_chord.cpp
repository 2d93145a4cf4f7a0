#include "voice/perform_chord.h"

#include <algorithm>
#include <sstream>
#include <string>

#include "organ/read.h"
#include "voice/hands.h"

namespace loftbeat::voice {
namespace {

Error wrong(std::string message, std::string hint) {
  return {ErrorKind::wrong_use, std::move(message), "", 0, 0, std::move(hint)};
}

}  // namespace

Result<Performance> perform_chord(const organ::Organ& organ, const organ::Registration& drawn,
                                  std::string_view text, double seconds, int hands) {
  const Manuals manuals = manuals_for(organ, drawn);
  int division = hands >= 0 ? hands : manuals.hands;
  PerformanceBuilder builder(organ);
  builder.change(0, organ::empty_registration(organ), drawn);
  const std::int64_t end = frames_from_seconds(seconds);
  std::string keys_text(text);
  std::replace(keys_text.begin(), keys_text.end(), ',', ' ');
  std::istringstream words{keys_text};
  int keys = 0;
  for (std::string word; words >> word;) {
    if (word == "+") {
      if (!manuals.feet)
        return wrong("no pedal stop is drawn for the keys after \"+\".",
                     "Draw one, or leave the \"+\" out.");
      division = *manuals.feet;
      continue;
    }
    const auto key = organ::key_from_text(word);
    if (!key)
      return wrong("\"" + word + "\" is no key; expected one such as C4, F#4, Bb3 or 60.",
                   "C4 is middle C.");
    const organ::Division& played = organ.divisions[static_cast<std::size_t>(division)];
    if (!played.has_key(*key))
      return wrong("the " + played.name + " has no key " + word + ".",
                   "Its keys go from " + organ::key_text(played.lowest_key) + " to " +
                       organ::key_text(played.highest_key) + ".");
    builder.hold({0, end, division, *key});
    ++keys;
  }
  if (keys == 0) return wrong("the chord names no key.", "For instance \"C4 E4 G4\".");
  return builder.finish(end);
}

}  // namespace loftbeat::voice
