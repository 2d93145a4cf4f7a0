#pragma once

// A congregation that sings along with a player, and who led whom. Read in this order:
// keeping_together.h (the equations), people.h (the timing), voices.h (the sound), congregation.h
// (both, for playing), crowd_record.h (what is kept), who_led.h (what it says).

#include "crowd/congregation.h"
#include "crowd/crowd_record.h"
#include "crowd/firmness.h"
#include "crowd/keeping_together.h"
#include "crowd/people.h"
#include "crowd/singing_file.h"
#include "crowd/sung_pass.h"
#include "crowd/touch.h"
#include "crowd/voices.h"
#include "crowd/who_led.h"
