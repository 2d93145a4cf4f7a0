#pragma once

// Which score note each played note is.

#include "follow/alignment.h"
