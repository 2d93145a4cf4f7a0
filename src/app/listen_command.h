#pragma once

#include <optional>
#include <string>
#include <vector>

#include "live/click_track.h"

namespace loftbeat::app {

// A message that begins and ends a practice: a key or a controller (a pedal) of any channel.
struct Signal {
  enum class Kind { note, control } kind = Kind::note;
  int number = 0;  // 0 to 127; a controller counts from value 64 up
};

// What is rehearsed alone.
struct Only {
  enum class What { all, play_over, join } what = What::all;
  int verse = 0;  // of the join after it
};

// An input, and the division whose channel its messages get (empty: as they come).
struct InputChoice {
  std::string name;  // part of it
  std::string division;
};

// `loftbeat listen`, understood.
struct ListenOrder {
  std::string plan_path;
  std::vector<InputChoice> inputs;    // empty: the only one there is, or asks
  std::string own_input;              // an input of our own that others connect to; empty: none
  std::string replay_path;            // a take instead of inputs; empty: none
  double replay_times = 1;            // so many times as fast; 0: as fast as can be
  std::string sessions = "sessions";  // where the practice is kept

  // Nothing: counted in where someone sits at the terminal, else off.
  std::optional<live::ClickMode> click;
  int count_in_bars = 1;
  double click_db = -20;  // -60 to -6, of full scale

  enum class Ranks { silent, speak } ranks = Ranks::silent;
  std::string device;    // empty: the system's default
  double volume_db = 0;  // of the ranks
  // Who moves the stops where the keyboard has none: computer keys, or nobody needs to.
  enum class StopsBy { midi, computer_keys, plan } stops_by = StopsBy::midi;

  // People who sing along; 0: nobody.
  int singing = 0;
  double reluctance_percent = 3;  // 0 to 8: how much slower they would go
  double metres = 20;             // from the player to them

  std::optional<Signal> signal;
  Only only;
  enum class Shown { place, place_and_drift } shown = Shown::place;
};

// "note 21", "control 64"; nothing if it is neither.
[[nodiscard]] std::optional<Signal> signal_from(const std::string& text);
// "play-over", "join 2".
[[nodiscard]] std::optional<Only> only_from(const std::string& text);

// Recovers what a crash left, listens until the player ends it (Enter, the signal, or a long
// silence), keeps the practice as a folder, and shows its review; returns the exit code.
int run_listen(const ListenOrder& order);

}  // namespace loftbeat::app
