#pragma once

#include <optional>
#include <vector>

#include "base/base.h"
#include "follow/alignment.h"
#include "music/score.h"
#include "plan/route.h"
#include "timing/beats.h"
#include "timing/robust.h"

namespace loftbeat::timing {

// The pulse of a pass: a robust, slowly bending line through its struck beats, breaths, fermatas
// and planned holds taken out. It is the ruler for everything else.
//
// Method. The way is cut into segments at every place where time may be added: phrase ends, held
// notes, restarts, and interruptions (an interval that exceeds the local median by a quarter (of
// a beat at least) and by four robust standard deviations). Slopes are taken within segments only,
// so no pause can tilt them. The period at a beat is the Theil-Sen slope over the 13 struck beats
// nearest to it (6 before and 6 after; at the ends of the pass the window is moved inwards, not
// shortened), so the last two beats alone are never the ruler. The level is the mean of the
// middle half over the same window. Beats of an upbeat bar (it may be gathered), inside a held note
// and in a planned broadening are not used.
//
// How slowly is slowly: a straight line through 12 beats whose period grows by c a beat is off by
// c * 12^2 / 12 at its ends. With 1 s a beat and a tempo that swings by 4 % over 64 beats (c at
// most 3.9 ms) the pulse is at most 47 ms off at the ends of the pass, and half of that within.

inline constexpr std::size_t kPulseWindow = 13;
// Steps are measured between so many beats on either side.
inline constexpr std::size_t kStepBeats = 4;

enum class CutKind {
  phrase_end,    // a breath may be taken
  hold,          // a fermata that the plan lengthens by stated beats
  free_hold,     // a fermata held at will
  restart,       // went back and played on
  omission,      // something was left out
  interruption,  // time added where none belongs
};

// A place where time may be added. `x` is the first place after it.
struct Cut {
  double x = 0;
  Tick tick = 0;  // the score place: for a phrase end the earlier phrase's end
  CutKind kind = CutKind::phrase_end;
  double planned_extra_beats = 0;  // hold only
  std::optional<double> extra_s;   // measured: nothing if one side has no struck beat
  double leverage = 0;             // its standard uncertainty in units of the pulse's jitter
};

// A struck beat against the pulse.
struct PulseBeat {
  double x = 0;
  double t = 0;
  Tick tick = 0;
  int segment = 0;
  bool used = true;            // took part in finding the pulse
  double period_s = 0;         // local, seconds a beat
  double period_leverage = 0;  // its standard uncertainty in units of the jitter
  double pulse_t = 0;          // where the pulse has this beat
};

struct Pulse {
  std::vector<PulseBeat> beats;
  std::vector<Cut> cuts;       // by place
  double period_s = 0;         // mean: Theil-Sen over all used beats; > 0 if `known`
  double period_leverage = 0;  // its standard uncertainty in units of the scatter
  double scatter_s = 0;        // robust standard deviation about the straight line of that period
  double jitter_s = 0;         // the same about the pulse, for the parameters fitted
  double usual_jitter_s = 0;   // the player's, over all passes of the take
  bool known = false;          // false: fewer than three struck beats in one line

  // Local period of the nearest struck beat. Requires known.
  [[nodiscard]] double period_at(double x) const;
  // Standard uncertainties: of that local period, of the mean period, and of any slope over beats
  // of this pulse. Few beats may lie together by chance, so the jitter of all counts at least.
  [[nodiscard]] double period_uncertainty_at(double x) const;
  [[nodiscard]] double period_uncertainty() const;
  [[nodiscard]] double uncertainty_of(const Slope& slope) const;
  // Where the pulse has the place `x`, carried on from the nearest beat. Requires known.
  [[nodiscard]] double time_at(double x) const;
};

struct PulseQuestion {
  const music::Score& score;
  const plan::Route& route;
  const follow::AlignedPass& pass;
  const PassWay& way;
  const std::vector<GridBeat>& grid;
};

// Worked number: beats at 0 1 2 3 | 4.3 5.3 6.3 7.3 s with a phrase end at the bar: period 1 s and
// one cut of 0.3 s; the pulse then passes through every beat.
[[nodiscard]] Pulse find_pulse(const PulseQuestion& question);

// Lasting part of a broadening: where it begins on the way, and the slowest it may become as a
// factor of the period (100 / percent). Nothing if none is planned.
struct BroadeningOnWay {
  double from = 0;
  double factor = 1;
};
[[nodiscard]] std::optional<BroadeningOnWay> planned_broadening(const plan::Route& route,
                                                                const follow::AlignedPass& pass,
                                                                const PassWay& way);

}  // namespace loftbeat::timing
