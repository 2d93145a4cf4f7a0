#include "window/keys/simulated_take.h"

#include "app/sound_source.h"
#include "base/file.h"
#include "music/read.h"
#include "plan/read.h"
#include "plan/route.h"
#include "simulate/perform.h"
#include "take/smf_take.h"

namespace loftbeat::window {

Status write_simulated_take(const std::string& plan_path, std::uint64_t seed,
                            const std::string& to) {
  const auto read = plan::read_plan(plan_path);
  if (!read) return read.error();
  const auto score = music::read_score(read->score_path);
  if (!score) return score.error();
  const plan::Plan plan = app::settled_plan(*read, score->score);
  const auto route = plan::make_route(plan, score->score);
  if (!route) return route.error();
  // Habits of a good player; from memory: jitter of 10 to 15 ms, a tempo that wanders by one
  // percent, chords spread by a few milliseconds.
  simulate::Player player;
  player.onset.jitter_ms = 12;
  player.onset.spread_ms = 12;
  player.tempo.wander_percent = 1;
  const auto played = simulate::perform({score->score, plan, *route}, player, seed);
  return write_file(to, take::format_take(played.take));
}

}  // namespace loftbeat::window
