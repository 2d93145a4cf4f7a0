#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "simulate/piece.h"
#include "simulate/player.h"

namespace loftbeat::simulate {

// A stretch played without jumping.
struct Leg {
  TickSpan span;
  double pause_beats = 0;    // of nothing before it
  bool goes_back = false;    // a restart: what is played again replaces the earlier time
  bool false_start = false;  // goes back to the very start, before half the tune
};

// From the last chord of an act to the next act.
struct Gap {
  std::optional<plan::Join> planned;
  std::optional<double> planned_span_beats;
  double hold_beats = 2;  // last chord's onset to its release
  double span_beats = 3;  // last chord's onset to the next onset
  int count_slip = 0;
  double phase_slip = 0;
  double extra_s = 0;  // between two runs
};

struct ActCorrection {
  Tick tick = 0;
  Tick next = 0;  // the onset after it, which the lost time delays
  double cost_beats = 0;
};

// Extra time that belongs nowhere.
struct ActDelay {
  Tick tick = 0;
  double beats = 0;
  double seconds = 0;
  bool keys_up = false;
};

// One pass as it is going to be played, before any timing.
struct Act {
  int source = -1;      // route pass it follows, also for an extra pass
  int index = 0;        // place in the script
  int truth_pass = -1;  // index into Truth::passes; -1 for asides and verses without notes
  bool planned = true;
  std::string label;
  plan::PassKind kind = plan::PassKind::verse;
  int run = 1;
  bool sounds = true;
  std::vector<TickSpan> meant;
  std::vector<Leg> legs;
  std::vector<plan::Texture> textures;
  int transpose = 0;
  std::optional<std::vector<int>> only_voices;
  double improvised_beats = 0;  // > 0: chords that the score does not have
  std::optional<Tick> broaden_from;
  double broaden_percent = 100;
  double tempo_factor = 1;
  double drag_percent = 0;
  double slowing_percent = 0;
  double pedal_lag_ms = 0;
  double left_lag_ms = 0;
  double smear_ms = 0;
  double smear_share = 0;
  double ragged_ms = 0;
  double unstruck_share = 0;
  double velocity_factor = 1;
  bool sustained = false;
  std::vector<ActCorrection> corrections;
  std::vector<ActDelay> delays;
  Gap after;
};

struct Script {
  std::vector<Act> acts;
  std::vector<Fault> planted;
};

// The route with the player's deviations, in playing order.
[[nodiscard]] Script write_script(const Piece& piece, const Player& player, std::uint64_t seed);

// The route's phrases, else the score's, else the whole tune as one.
[[nodiscard]] std::vector<TickSpan> phrases_of(const Piece& piece);

}  // namespace loftbeat::simulate
