#pragma once

#include <string>
#include <vector>

#include <QSettings>

#include "app/listen_command.h"

namespace loftbeat::window {

// What the player chose for practising, as it is remembered.
struct PracticeChoices {
  enum class Part { whole, play_over, join } part = Part::whole;
  int join_verse = 1;  // the join after this verse
  enum class Click { off, count_in, always, rests } click = Click::count_in;
  enum class Ranks { silent, speak } ranks = Ranks::silent;
  int volume_db = -20;  // -60 to 0, of the ranks: quiet at first
  int singing = 0;      // people who sing along
  int reluctance_percent = 3;
  enum class Stops { keyboard, plan } stops = Stops::keyboard;
  enum class Shown { place, place_and_drift } shown = Shown::place;
  std::string input;   // part of its name; empty: every one there is
  std::string signal;  // "note 21", "control 64"; empty: none
};

[[nodiscard]] PracticeChoices read_choices(const QSettings& settings);
void write_choices(const PracticeChoices& choices, QSettings& settings);

// As the command line's order. `inputs`: the names of all inputs there are.
[[nodiscard]] app::ListenOrder order_of(const PracticeChoices& choices, const std::string& plan,
                                        const std::string& practices,
                                        const std::vector<std::string>& inputs);

}  // namespace loftbeat::window
