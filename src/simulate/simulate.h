#pragma once

// The performance simulator. Read in this order.

#include "simulate/piece.h"
#include "simulate/player.h"
#include "simulate/truth.h"
#include "simulate/perform.h"
#include "simulate/truth_alignment.h"
#include "simulate/invented_hymn.h"
#include "simulate/model_players.h"
