#pragma once

// What a registration comes to in a church: how loud and how sharp it is, what it adds to the
// singing, which stop changes it most. What it takes to go from one to the next: movements of the
// hand, their time, and whether there is a hand. Pure computation; every function may be called in
// any thread.

#include "advise/cheapest_sequences.h"
#include "advise/chord_change.h"
#include "advise/chorus_family.h"
#include "advise/console_map.h"
#include "advise/desk_step.h"
#include "advise/free_hand.h"
#include "advise/hall.h"
#include "advise/hand_work.h"
#include "advise/join_ways.h"
#include "advise/measured_registration.h"
#include "advise/motion_times.h"
#include "advise/movement_times.h"
#include "advise/one_movement.h"
#include "advise/over_time.h"
#include "advise/plan_check.h"
#include "advise/plan_costs.h"
#include "advise/plan_measures.h"
#include "advise/plan_sentences.h"
#include "advise/planner.h"
#include "advise/player_times.h"
#include "advise/sounding.h"
#include "advise/stop_effects.h"
#include "advise/stop_events.h"
#include "advise/stop_powers.h"
#include "advise/stop_ranks.h"
#include "advise/stop_verdicts.h"
#include "advise/suggestion_words.h"
