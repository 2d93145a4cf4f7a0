#pragma once

#include "base/one_way_queue.h"
#include "voice/rt/event.h"

namespace loftbeat::voice::rt {

// Carries events from one thread to the audio thread: some seconds of the busiest playing.
using EventQueue = OneWayQueue<Event, 8192>;

}  // namespace loftbeat::voice::rt
