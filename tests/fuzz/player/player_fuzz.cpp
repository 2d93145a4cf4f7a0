// Whatever the bytes are: one error with a sentence and a file, or a player file that keeps what
// player_file.h says, is the same when it is written and read again, and gives usable factors.

#include <cmath>
#include <cstdint>
#include <cstdlib>
#include <string_view>

#include "practice/player_file.h"

namespace loftbeat::practice {
namespace {

void check_times(const PlayerFile& player) {
  const advise::PlayerTimes times = player.times();
  for (const organ::Side side :
       {organ::Side::unknown, organ::Side::left, organ::Side::right, organ::Side::above}) {
    for (const advise::Handling handling :
         {advise::Handling::draw, advise::Handling::push_in, advise::Handling::press_piston}) {
      const double factor = advise::used_factor(times.at(side, handling));
      if (!std::isfinite(factor) || factor < advise::kLeastRatio || factor > advise::kMostRatio)
        std::abort();
    }
  }
}

void check(std::string_view text) {
  const auto player = parse_player(text, "player.toml");
  if (!player) {
    if (player.error().message.empty() || player.error().file.empty()) std::abort();
    return;
  }
  if (player->takes.size() > kMostPlayerTakes) std::abort();
  for (const PlayerTake& take : player->takes) {
    if (take.keys.size() != 16 || take.movements.size() > kMostPlayerMovements) std::abort();
    for (const advise::MovementTime& movement : take.movements) {
      if (!(movement.ratio >= advise::kLeastRatio && movement.ratio <= advise::kMostRatio))
        std::abort();
    }
  }
  check_times(*player);
  const auto again = parse_player(format_player(*player), "player.toml");
  if (!again.ok() || !(*again == *player)) std::abort();
}

}  // namespace
}  // namespace loftbeat::practice

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  loftbeat::practice::check({reinterpret_cast<const char*>(data), size});
  return 0;
}
