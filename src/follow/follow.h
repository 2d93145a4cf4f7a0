#pragma once

// Which score note each played note is.

#include "follow/alignment.h"
#include "follow/live_follower.h"
