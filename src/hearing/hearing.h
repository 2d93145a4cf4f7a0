#pragma once

// What is heard: from levels in third octaves to loudness, sharpness, and to what the organ adds
// to the singing. Pure computation, no state shared, every function may be called in any thread.

#include "hearing/bands.h"
#include "hearing/centroid.h"
#include "hearing/filter_bank.h"
#include "hearing/loudness.h"
#include "hearing/over_singing.h"
#include "hearing/percentiles.h"
#include "hearing/sharpness.h"
#include "hearing/spectrum.h"
#include "hearing/weighting.h"
