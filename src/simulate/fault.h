#pragma once

#include <string>

#include "base/time.h"

namespace loftbeat::simulate {

// What a simulated player does amiss on purpose of whoever set him up. `amount` and its unit:
enum class FaultKind {
  // At the join after the pass.
  count_slip,  // whole beats too many (positive) or too few
  phase_slip,  // beats late (positive) or early
  // Within the pass.
  hesitation,   // `amount` beats lost before the onset at `tick`
  pause,        // `amount` seconds of nothing before the onset at `tick`, keys up
  restart,      // broken off before `tick`, back to `back_to`, after `amount` beats
  false_start,  // broken off before `tick`, begun again from the start after `amount` beats
  correction,   // wrong tune note at `tick`, struck again rightly; costs `amount` beats (0: none)
  phrase_left_out,   // the phrase that begins at `tick`
  slowing,           // tempo falls by `amount` percent over the last four beats
  dragging,          // tempo falls evenly by `amount` percent from first to last beat
  off_tempo,         // `amount` percent faster (negative: slower) than set, all through
  cold,              // as off_tempo, for the first try of the day; the join after it is as planned
  late_feet,         // pedal `amount` ms behind the hands
  late_left,         // left hand `amount` ms behind the right
  smear,             // `share` of the notes held `amount` ms into the next
  ragged_release,    // releases at phrase ends and joins spread by `amount` ms (SD)
  repeats_unstruck,  // `share` of the repeated notes held on instead of struck again
  timid,             // velocity times (1 - amount / 100)
  sustained,         // sustain pedal changed with the beat, late
  // On the route.
  extra_pass,           // the pass is played once more
  missing_pass,         // the pass is not played
  unwritten_interlude,  // `amount` beats of improvised chords after the pass
};

[[nodiscard]] std::string to_string(FaultKind kind);

inline constexpr int kEveryPass = -1;
inline constexpr Tick kAnywhere = -1;

// One planted fault. In Player, `pass` is an index into Route::passes; in Truth, into
// Truth::passes.
struct Fault {
  FaultKind kind = FaultKind::hesitation;
  int pass = kEveryPass;
  Tick tick = kAnywhere;  // kAnywhere: chosen by seed where the kind needs a place
  double amount = 0;
  Tick back_to = kAnywhere;  // restart; kAnywhere: the begin of the phrase
  double share = 1;          // part of the notes concerned, 0 to 1
};

}  // namespace loftbeat::simulate
