#pragma once

// The church: what it absorbs, how long it rings, how loud organ and singing arrive, and its
// response to a click. Pure computation but for read.h; every function may be called in any thread.

#include "room/acoustics.h"
#include "room/air.h"
#include "room/bands.h"
#include "room/church.h"
#include "room/formulas.h"
#include "room/impulse_response.h"
#include "room/listening.h"
#include "room/materials.h"
#include "room/people_effect.h"
#include "room/read.h"
#include "room/singing.h"
