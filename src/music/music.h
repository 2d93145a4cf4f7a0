#pragma once

// What can be played: the score as a value, and the readers and writers of its files.
// Read in this order.

#include "music/score.h"
#include "music/read.h"
#include "music/abc.h"
#include "music/smf_file.h"
#include "music/write.h"
