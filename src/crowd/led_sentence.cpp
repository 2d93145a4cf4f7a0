#include <fmt/format.h>

#include <cmath>

#include "crowd/who_led.h"

namespace loftbeat::crowd {
namespace {

std::string of_verses(std::size_t count) {
  return count == 1 ? "1 verse" : fmt::format("{} verses", count);
}

// The verse in which the player gave way the most.
const VerseLed* most_yielding(const WhoLed& led) {
  const VerseLed* most = nullptr;
  for (const VerseLed& verse : led.verses)
    if (verse.led == Led::gave_way &&
        (most == nullptr || *verse.slowing_percent > *most->slowing_percent))
      most = &verse;
  return most;
}

std::string gave_way(const WhoLed& led) {
  if (const VerseLed* verse = most_yielding(led))
    return fmt::format(
        "You gave way in verse {}: from {:.0f} to {:.0f} in a minute, while the people were {:.0f} "
        "ms "
        "behind you.",
        verse->label, *verse->begin_bpm, *verse->end_bpm, *verse->lag_ms);
  const VerseLed* first = nullptr;
  const VerseLed* last = nullptr;
  for (const VerseLed& verse : led.verses) {
    if (!verse.tempo_bpm) continue;
    if (first == nullptr) first = &verse;
    last = &verse;
  }
  if (first == nullptr || first == last)
    return fmt::format("You gave way, while the people were {:.0f} ms behind you.", *led.lag_ms);
  return fmt::format(
      "You gave way little by little: from {:.0f} in a minute in verse {} to {:.0f} in verse {}, "
      "while the people were {:.0f} ms behind you.",
      *first->tempo_bpm, first->label, *last->tempo_bpm, last->label, *led.lag_ms);
}

std::string kept_tempo(const WhoLed& led) {
  double sum = 0;
  std::size_t count = 0;
  for (const VerseLed& verse : led.verses) {
    if (!verse.tempo_bpm) continue;
    sum += *verse.tempo_bpm;
    ++count;
  }
  return count == 0 ? of_verses(led.verses.size())
                    : fmt::format("{} at {:.0f} in a minute", of_verses(led.verses.size()),
                                  sum / static_cast<double>(count));
}

}  // namespace

std::string led_sentence(const WhoLed& led) {
  switch (led.led) {
    case Led::firm:
      return fmt::format("You led: {}, the people {:.0f} ms behind you.", kept_tempo(led),
                         *led.lag_ms);
    case Led::gave_way: return gave_way(led);
    case Led::not_tested:
      return *led.lag_ms < -kLeastLagMs
                 ? fmt::format(
                       "The people were {:.0f} ms ahead of you: there was nobody to pull along.",
                       -*led.lag_ms)
                 : "The people were with you: there was nobody to pull along.";
    case Led::unknown: break;
  }
  return "Too little was sung to tell who led.";
}

}  // namespace loftbeat::crowd
