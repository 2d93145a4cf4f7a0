#pragma once

// The instrument described: divisions, stops and where the hand finds them, couplers, pistons, the
// swell boxes; its file; which stops a plan means; what comes from its console. Pure computation
// but for read.h; every function may be called in any thread.

#include "organ/console.h"
#include "organ/family_guess.h"
#include "organ/instrument.h"
#include "organ/read.h"
#include "organ/registration.h"
#include "organ/stop_list.h"
#include "organ/swell_box.h"
