#pragma once

// The command line `loftbeat`: reads what is asked, fetches the files, shows the review or lets it
// sound.

#include "app/card_command.h"
#include "app/devices_command.h"
#include "app/endings.h"
#include "app/listen_command.h"
#include "app/measure_command.h"
#include "app/options.h"
#include "app/plan_command.h"
#include "app/review_command.h"
#include "app/sound_command.h"
#include "app/terminal_choice.h"
