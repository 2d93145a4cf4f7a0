#pragma once

// The command line `loftbeat`: reads what is asked, fetches the files, shows the review.

#include "app/options.h"
#include "app/review_command.h"
#include "app/terminal_choice.h"
