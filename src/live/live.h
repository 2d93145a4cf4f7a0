#pragma once

// Playing, listened to as it happens. What runs in a MIDI callback is in live/rt.

#include "live/click_track.h"
#include "live/engine.h"
#include "live/held_keys.h"
#include "live/keeper.h"
#include "live/live_view.h"
#include "live/message_event.h"
#include "live/replay.h"
#include "live/rt/ears.h"
#include "live/rt/stage.h"
