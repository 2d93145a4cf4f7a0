#pragma once

#include <cstdint>
#include <vector>

#include "simulate/random.h"
#include "simulate/script.h"
#include "simulate/time_map.h"

namespace loftbeat::simulate {

// The player's wandering pulse. It runs on through the joins: its waves count beats from the
// start of the take.
class Wander {
 public:
  Wander(double percent, std::uint64_t seed);
  // Tempo factor, 1 +- percent / 100 at most.
  [[nodiscard]] double factor(double beats) const;

 private:
  double percent_;
  double long_beats_, short_beats_, long_phase_, short_phase_;
};

// An act laid out in time.
struct ActTimes {
  std::vector<TimeMap> legs;  // one for each leg; one over [0, beats) for improvised acts
  double start_s = 0;
  double last_onset_s = 0;  // the last score onset, as intended
  double end_beat_s = 0;    // a beat at the end, without slowing or broadening
  double mean_bpm = 0;      // pulse, without slowing and broadening
  double beats = 0;         // beats counted
};

// Lays acts one after another.
class Timekeeper {
 public:
  Timekeeper(const Piece& piece, const Player& player, std::uint64_t seed);

  // Times of the act when its first place falls on `start_s`.
  [[nodiscard]] ActTimes lay(const Act& act, double start_s);

  // When the next act begins, by the gap after this one.
  [[nodiscard]] double next_start(const Act& act, const ActTimes& times);

 private:
  struct Loss {
    Tick tick = 0;
    double seconds = 0;
    bool silent = false;  // notes end before it (a breath) or sound through it (a fermata)
  };
  [[nodiscard]] std::vector<Loss> losses(const Act& act, std::size_t leg);
  // Losses in (span.begin, limit).
  void add_breaths(TickSpan span, Tick limit, std::vector<Loss>& found);
  void add_holds(const Act& act, TickSpan span, Tick limit, std::vector<Loss>& found);
  [[nodiscard]] TimeMap lay_leg(const Act& act, std::size_t leg, double start_s);
  [[nodiscard]] double beat_seconds(const Act& act, Tick tick) const;
  [[nodiscard]] double plain_beat_seconds(const Act& act, double progress) const;
  [[nodiscard]] double phrase_factor(Tick tick) const;
  void lay_improvised(const Act& act, ActTimes& times);

  const Piece& piece_;
  const Player& player_;
  Wander wander_;
  Random breaths_, joins_;
  Tick beat_ = kTicksPerQuarter;
  double set_beat_s_ = 1;
  double beats_ = 0;        // since the start of the take
  double leg_clock_s_ = 0;  // where the leg laid last ended
  std::vector<TickSpan> phrases_;
  std::vector<Tick> onsets_;
};

}  // namespace loftbeat::simulate
