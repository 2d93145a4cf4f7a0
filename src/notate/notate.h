#pragma once

// A hymn noted down from playing it once to the metronome: keys that were struck become a score.

#include "notate/key_guess.h"
#include "notate/noted_hymn.h"
#include "notate/setting.h"
