#pragma once

#include <array>
#include <optional>
#include <span>
#include <vector>

#include "advise/hall.h"
#include "advise/sounding.h"
#include "room/bands.h"

namespace loftbeat::advise {

// A registration in one place: what single stops do to it.
struct Scene {
  const organ::Organ* organ = nullptr;  // none of these may be null
  const StopPowers* powers = nullptr;
  const Hall* hall = nullptr;  // with the people in it
  hearing::VoiceBand sung;
  std::vector<Sounding> sounding;
};

// What changes, + = more with the move. In the hall with its people.
struct Change {
  double sone = 0;             // loudness of the organ alone
  std::optional<double> acum;  // its sharpness; none where there was no sound, or is none left
  double lead_sone = 0;        // over the singing
  double support_sone = 0;
};
[[nodiscard]] Change change_between(const Heard& before, const Heard& after);

// One stop drawn, or pushed in where it was drawn.
struct StopEffect {
  std::size_t stop = 0;
  enum class Move { draw, push_in } move = Move::draw;
  Change change;
};
// Of every stop that speaks on the keys played, the largest change of sharpness first (without
// regard to its sign); stops that leave no sound, or begin it, come last.
[[nodiscard]] std::vector<StopEffect> stop_effects(const Scene& scene,
                                                   const organ::Registration& drawn);

// One 8' stop exchanged for another of the same division.
struct Swap {
  std::size_t out = 0;
  std::size_t in = 0;
  enum class Kind { flue, string, reed } kind = Kind::flue;  // string and celeste; reed on a side
  Change change;
};
// Every 8' stop drawn for every 8' stop of its division not drawn, as far as both speak on the keys
// played; the least change of sharpness first.
[[nodiscard]] std::vector<Swap> swaps_at_8_foot(const Scene& scene,
                                                const organ::Registration& drawn);

// Upper work: stops of 4' and higher, and mixtures.
[[nodiscard]] bool is_upper_work(const organ::Stop& stop);

}  // namespace loftbeat::advise
