#pragma once

#include "base/toml_document.h"
#include "pipes/rank.h"

namespace loftbeat::pipes {

// The tables [tone], [speech], [wind], [scatter] and [ensemble] of `at` (a file or one rank), read
// over what `rank` already has. Private to pipes/.
void read_making(const TomlTable& at, Rank& rank);

}  // namespace loftbeat::pipes
