#pragma once

#include <optional>
#include <string>

#include "app/listen_work.h"
#include "live/live_view.h"

namespace loftbeat::app {

// Where the player is and what comes, in words, for whatever shows it.
struct PlaceWords {
  std::string pass;  // "verse 2", "play-over"; empty: nothing has been played
  bool in_tune = false;
  int line = 0;   // of the tune, from 1; 0: it has none
  int lines = 0;  // that the tune has
  std::string bar;
  int beat = 0;          // of the bar, from 1; 0 in an upbeat's missing part
  int beats = 0;         // that the bar has
  std::string hold;      // in the last chord: "hold 4, lift 2"; else empty
  std::string step;      // what hands do at the coming join: "LEFT: draw Great Fifteenth 2"
  std::string look;      // in the pass's last line: where to look; else empty
  bool at_join = false;  // the last chord has been struck
  std::optional<double> behind_ms;  // the set tempo, + late
};
[[nodiscard]] PlaceWords place_of(const ListenWork& work, const live::NowPlaying& now);

// "12 ms behind", "on the beat".
[[nodiscard]] std::string behind_words(double behind_ms);

}  // namespace loftbeat::app
