#pragma once

#include <cstdint>
#include <vector>

#include "app/sound_data.h"
#include "app/sound_order.h"
#include "music/score.h"
#include "plan/route.h"
#include "voice/performance.h"

namespace loftbeat::app {

// The plan's tempo, else the score's first, else a usual one; beats a minute.
[[nodiscard]] double tempo_meant(const plan::Plan& plan, const music::Score& score);

// Where the number of verses or the play-over is left to the take, there is none to tell: as many
// verses as the text has, and the whole tune.
[[nodiscard]] plan::Plan settled_plan(plan::Plan plan, const music::Score& score);

// A plan laid over its score, with what is drawn in each pass.
struct PlannedSound {
  plan::Plan plan;  // with the number of verses and the play-over settled
  music::Score score;
  plan::Route route;
  std::vector<organ::Registration> registrations;  // one for each pass of the route
  double tempo_bpm = 0;
};
// Requires data.plan. Errors: what readers say; a pass or phrase that is not there; stops that the
// organ does not have.
[[nodiscard]] Result<PlannedSound> planned_sound(const SoundOrder& order, const SoundData& data);

// What is drawn for `names` of the plan; what the command line says goes before it.
[[nodiscard]] Result<organ::Registration> registration_for(const SoundOrder& order,
                                                           const SoundData& data,
                                                           plan::RegistrationPlan names);

// What an order plays.
struct SoundSource {
  voice::Performance performance;
  std::int64_t loop_frames = 0;  // 0: played once
};

// Errors: what readers say; a pass, bar or phrase that is not there; stops that the organ does not
// have; nothing drawn.
[[nodiscard]] Result<SoundSource> sound_source(const SoundOrder& order, const SoundData& data);

}  // namespace loftbeat::app
