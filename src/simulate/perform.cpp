#include "simulate/perform.h"

#include <cassert>

#include "simulate/console.h"
#include "simulate/keys.h"
#include "simulate/reckon.h"
#include "simulate/slips.h"
#include "simulate/stops.h"
#include "simulate/touch.h"

namespace loftbeat::simulate {
namespace {

std::vector<PlayedAct> play_acts(const Stage& stage, const Script& script) {
  Timekeeper timekeeper(stage.piece, stage.player, stage.seed);
  std::vector<PlayedAct> acts;
  double start = stage.player.start_s;
  for (const Act& act : script.acts) {
    PlayedAct played;
    played.act = act;
    played.times = timekeeper.lay(act, start);
    start = timekeeper.next_start(act, played.times);
    voice_act(stage, played);
    slip(stage, played);
    touch(stage, played);
    acts.push_back(std::move(played));
  }
  return acts;
}

std::vector<Press> presses_of(const Stage& stage, std::vector<PlayedAct>& acts) {
  std::vector<Press> presses;
  for (std::size_t i = 0; i < acts.size(); ++i) {
    for (const Stroke& stroke : acts[i].strokes) {
      presses.push_back({i, stroke, channel_of(stage.player.console, stroke.limb)});
    }
  }
  return settle_keys(stage, std::move(presses), acts);
}

}  // namespace

Performance perform(const Piece& piece, const Player& player, std::uint64_t seed) {
  assert(!piece.score.notes.empty() && !piece.score.bars.empty());
  const Harmony harmony(piece.score);
  const Stage stage{piece, player, harmony, seed};
  const Script script = write_script(piece, player, seed);
  std::vector<PlayedAct> acts = play_acts(stage, script);
  std::vector<Press> presses = presses_of(stage, acts);
  set_velocities(stage, acts, presses);

  Performance performance;
  performance.truth = reckon(stage, acts, presses);
  performance.truth.faults = script.planted;
  std::vector<Sent> sent = key_messages(stage, presses);
  for (const PlayedAct& played : acts) add_sustain(played, sent);
  move_stops(player, acts, performance.truth, sent);
  performance.take = stamp(stage, std::move(sent), performance.truth.notes);
  return performance;
}

}  // namespace loftbeat::simulate
