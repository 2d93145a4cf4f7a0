#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "advise/movement_times.h"
#include "base/result.h"
#include "take/take.h"

namespace loftbeat::practice {

// What is learned of the player from takes: how long the movements to the stops took. A TOML 1.0
// file of its own, beside the sessions folder as a rule ("player.toml"):
//
//   [[take]]                         one for each take that was counted, oldest first
//   keys = "9f86d081884c7d65"        which: 16 hex digits made from the keys and their times, so
//                                    that a take is known again under any name
//   [[take.movement]]                none or more, at most 50
//   side = "left"                    "left", "right", "above"; left out for a piston
//   kind = "draw"                    "draw", "push-in", "piston"
//   ratio = 1.25                     measured over tabled time, 1/3 to 3 (advise/movement_times.h)
//
// The last 500 takes are kept. The factors are made from it anew each time: median by side and
// kind, drawn towards the table while there are few (advise/player_times.h).
struct PlayerTake {
  std::string keys;
  std::vector<advise::MovementTime> movements;
  friend bool operator==(const PlayerTake&, const PlayerTake&) = default;
};
struct PlayerFile {
  std::vector<PlayerTake> takes;
  [[nodiscard]] advise::PlayerTimes times() const;
  friend bool operator==(const PlayerFile&, const PlayerFile&) = default;
};
inline constexpr std::size_t kMostPlayerTakes = 500;
inline constexpr std::size_t kMostPlayerMovements = 50;

// Errors name file and line: unknown keys with the nearest, a ratio out of range, a take twice.
[[nodiscard]] Result<PlayerFile> parse_player(std::string_view text, const std::string& path);
[[nodiscard]] Result<PlayerFile> read_player(const std::string& path);
// Read again it is the same value.
[[nodiscard]] std::string format_player(const PlayerFile& player);

// What tells a take from all others: of its note events alone, times to the millisecond.
[[nodiscard]] std::string keys_of(const take::Take& take);

// Adds a take, and takes the oldest away beyond kMostPlayerTakes. A take that is there already, or
// one without movements, changes nothing.
enum class Counted { now, before, nothing_seen };
[[nodiscard]] Counted count_take(PlayerFile& player, PlayerTake take);

}  // namespace loftbeat::practice
