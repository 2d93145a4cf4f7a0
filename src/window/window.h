#pragma once

// The desktop window. One window with three places; they share a desk. Read in this order.

#include "window/desk/theme.h"
#include "window/desk/parish.h"
#include "window/desk/desk.h"
#include "window/desk/place.h"
#include "window/desk/long_work.h"
#include "window/main_window.h"
