#pragma once

// A review shown: terminal text, JSON, and a page. Computes nothing; see timing/ and practice/
// for what the numbers mean.

#include "report/json.h"
#include "report/page.h"
#include "report/terminal.h"
#include "report/utf8.h"
