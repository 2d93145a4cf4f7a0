// Whatever the bytes are: one error or recipes; of recipes every pipe has a pitch within hearing
// and a power that is a number.

#include <cmath>
#include <cstdint>
#include <cstdlib>
#include <string_view>

#include "pipes/pipes.h"

namespace loftbeat::pipes {
namespace {

void check_rank(const Rank& rank) {
  if (rank.id.empty() || rank.label.empty() || rank.steps.empty()) std::abort();
  for (int key = kLowestKey; key <= kHighestKey; ++key) {
    const auto pipes = intended_hz(rank, key);
    if (pipes.empty()) std::abort();
    for (const double hz : pipes)
      if (!(hz > 5 && hz < 12000)) std::abort();
  }
  const auto power = pipe_power(rank, 61);
  const double total = hearing::total_level(power);
  if (!std::isfinite(total) || total > rank.power_db + 20) std::abort();
}

void check(std::string_view text) {
  const auto recipes = parse_recipes(text, "x.toml");
  if (!recipes) {
    if (recipes.error().message.empty()) std::abort();
    return;
  }
  if (!recipes->ranks.empty()) check_rank(recipes->ranks.front());
}

}  // namespace
}  // namespace loftbeat::pipes

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  loftbeat::pipes::check({reinterpret_cast<const char*>(data), size});
  return 0;
}
