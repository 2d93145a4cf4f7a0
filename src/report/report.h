#pragma once

// A review, or the measures of a plan's stops, or the check of a plan, shown: terminal text, JSON,
// and a page. Computes nothing; see timing/ and practice/ for what the numbers mean.

#include "report/card.h"
#include "report/card_words.h"
#include "report/json.h"
#include "report/measure_json.h"
#include "report/measure_page.h"
#include "report/measure_text.h"
#include "report/page.h"
#include "report/plan_text.h"
#include "report/suggestion_text.h"
#include "report/terminal.h"
#include "report/utf8.h"
