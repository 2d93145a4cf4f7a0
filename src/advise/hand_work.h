#pragma once

#include <cstddef>
#include <vector>

#include "advise/console_map.h"
#include "advise/player_times.h"
#include "organ/organ.h"

namespace loftbeat::advise {

// The work of going from one registration to another.

// Which hand goes.
enum class Hand { none, left, right, either };

// One go of one hand at one side of the console, all drawn or all pushed in; or one piston. Knobs
// on the left jamb are taken by the left hand, those on the right by the right; tabs by either.
// Seconds are those of the tables times the player's own factor:
//   eyes     from the music to the first control, and seeing it; none for pistons, which thumb and
//            toe find by feel
//   reach    from the keys to the first control, and taking hold
//   moving   from the first control's going to the last one's: each is drawn or pushed 5 cm (a tab
//            2 cm), and between them the hand goes row by row from the lowest, outwards. Two knobs
//            taken in one grasp are not reckoned with.
//   back     from the last control to the keys (a piston: only the foot has a way back)
// Worked number: one knob 40 cm from the hand: reach 15.6, moving 3.6, back 14.0 = 33.2 TMU =
// 1.20 s, and 0.8 s of the eyes before it.
struct Movement {
  enum class Kind { draw, push_in, thumb_piston, toe_piston } kind = Kind::draw;
  organ::Side side = organ::Side::unknown;   // unknown too for a piston
  std::vector<organ::ConsoleMove> controls;  // in the order of the way; or the piston alone
  bool places_known = true;                  // false: distances are the assumptions
  double way_cm = 0;                         // out to the first, and between them
  double eyes_s = 0;
  double reach_s = 0;
  double moving_s = 0;
  double back_s = 0;

  [[nodiscard]] Hand hand() const;
  [[nodiscard]] bool is_piston() const {
    return kind == Kind::thumb_piston || kind == Kind::toe_piston;
  }
  [[nodiscard]] double seconds() const { return eyes_s + reach_s + moving_s + back_s; }
};

struct HandWork {
  std::vector<Movement> movements;  // in order: pistons, then draws, then pushes
  std::vector<organ::ConsoleMove>
      swells;  // swell and crescendo pedals that move: no hand, and no movement
  [[nodiscard]] std::size_t by_hand() const;  // movements that take a hand from the keys
  [[nodiscard]] bool places_known() const;
  [[nodiscard]] double seconds() const;  // one after the other
};

// The cheapest way from one to the other: fewest movements, then fewest that take a hand from the
// keys, then least time. Every set of pistons that can make sense (a general first, then at most
// one for each division) with knobs for the rest is looked at: exact. A piston that leaves exactly
// what is wanted is one movement. Equal registrations: no work.
//
// Controls whose side is not said count as badly as can be: apart from all others, and two or more
// of them on two sides.
//
// Both must be of the map's organ. A few microseconds where no piston helps, some tens where a
// dozen might.
[[nodiscard]] HandWork hand_work(const ConsoleMap& console, const organ::Registration& before,
                                 const organ::Registration& after, const PlayerTimes& player = {});

// The same with knobs alone.
[[nodiscard]] HandWork knob_work(const ConsoleMap& console, const organ::Registration& before,
                                 const organ::Registration& after, const PlayerTimes& player = {});

// One piston pressed.
[[nodiscard]] Movement piston_work(const ConsoleMap& console, std::size_t piston,
                                   const PlayerTimes& player = {});

// Every stop, coupler and tremulant that differs, in this order, by index.
[[nodiscard]] std::vector<organ::ConsoleMove> controls_between(const organ::Registration& before,
                                                               const organ::Registration& after);

// A registration with all of `after` that can be prepared on divisions that do not sound in
// `before`: their stops and tremulants. `sounds` says of each division whether it does.
[[nodiscard]] organ::Registration prepared(const organ::Organ& organ,
                                           const organ::Registration& before,
                                           const organ::Registration& after,
                                           const std::vector<bool>& sounds);

}  // namespace loftbeat::advise
