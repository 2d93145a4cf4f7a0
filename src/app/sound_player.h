#pragma once

#include <memory>

#include "app/sound_data.h"
#include "app/sound_order.h"
#include "base/result.h"
#include "voice/rt/player.h"

namespace loftbeat::app {

// What makes an order heard, or, where it names a file, what renders it. Out of a device playing
// begins so many dB under what it will be and rises within a second; into a file it does not.
inline constexpr double kQuietStartDb = 30;

// `data` must outlive the player. Loads the ranks and the room: a second or two. Errors: what
// voice::make_player says.
[[nodiscard]] Result<std::unique_ptr<voice::rt::Player>> player_for(const SoundOrder& order,
                                                                    const SoundData& data);

}  // namespace loftbeat::app
