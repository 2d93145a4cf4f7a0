#pragma once

// Pipes: recipes of ranks -> spectra and sound power -> a SoundFont. Model ranks, calibrated by one
// stated sound power each; not measured ones. Pure computation but for read.h; every function may
// be called in any thread.

#include "pipes/pitch.h"
#include "pipes/power.h"
#include "pipes/rank.h"
#include "pipes/read.h"
#include "pipes/soundfont.h"
#include "pipes/tone.h"
#include "pipes/zones.h"
