#pragma once

// What everything stands on: results that know file and line, score time and take time,
// files read whole under a size limit, TOML that remembers its lines.

#include "base/file.h"
#include "base/inverse_transform.h"
#include "base/measured.h"
#include "base/nearest.h"
#include "base/result.h"
#include "base/time.h"
#include "base/toml_document.h"
