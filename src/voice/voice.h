#pragma once

// Ranks that speak: what is to be heard as timed events (performance.h), made of a score by its
// plan (perform_score.h), a take (perform_take.h) or a chord; an organ that plays them
// (instrument.h), into a file (render.h) or to the sound device (playback.h). What runs in the
// audio callback is voice/rt, of which player.h is to be read first.

#include "voice/instrument.h"
#include "voice/perform_chord.h"
#include "voice/perform_score.h"
#include "voice/perform_take.h"
#include "voice/performance.h"
#include "voice/playback.h"
#include "voice/render.h"
#include "voice/sound_file.h"
#include "voice/sound_stream.h"
#include "voice/stop_changes.h"
