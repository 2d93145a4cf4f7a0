#pragma once

// What a registration comes to in a church: how loud and how sharp it is, what it adds to the
// singing, which stop changes it most. Pure computation; every function may be called in any
// thread.

#include "advise/cheapest_sequences.h"
#include "advise/chorus_family.h"
#include "advise/hall.h"
#include "advise/motion_times.h"
#include "advise/over_time.h"
#include "advise/plan_measures.h"
#include "advise/sounding.h"
#include "advise/stop_effects.h"
#include "advise/stop_powers.h"
