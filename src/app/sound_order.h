#pragma once

#include <optional>
#include <string>

namespace loftbeat::app {

// `loftbeat sound`, understood. Exactly one of plan, take and chord is what is played; a take may
// have a plan besides, for the organ and church that it names.
struct SoundOrder {
  std::string plan_path;
  std::string take_path;
  std::string chord;         // "C4 E4 G4 + C2"
  double chord_seconds = 4;  // 0.1 to 600

  std::string organ_path;       // empty: the plan's
  std::string stop_list;        // the organ in one line, in place of a file; empty: none
  std::string church_path;      // empty: the plan's
  std::optional<int> people;    // none: the plan's, else as the church expects
  bool dry = false;             // no church
  std::string stops;            // names with commas; empty: the plan's
  std::string couplers;         // the same
  std::optional<double> swell;  // of all boxes
  std::string manual;           // for the chord; empty: the first that sounds

  std::string pass;  // "play-over", "2"; empty: all of them
  std::optional<double> from_seconds;
  std::string from_bar;            // as printed; empty: from the start
  std::optional<int> loop_phrase;  // from 1
  std::optional<double> tempo;     // beats a minute, of a plan
  double speed_percent = 100;      // of a take, of its own speed; 25 to 400
  std::string changes_path;        // stop changes; empty: none

  std::string to_path;  // .wav or .flac; empty: the sound device
  std::string device;   // empty: the default
  bool list_devices = false;
  double volume_db = 0;   // -60 to 20
  std::string soundfont;  // empty: the one that comes with the program

  enum class What { play, measure } what = What::play;
  std::string json_path;  // of the measures; empty: not wanted; "-": standard output
  std::string page_path;  // the same
};

}  // namespace loftbeat::app
