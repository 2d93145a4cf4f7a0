#pragma once

#include "music/abc_cursor.h"
#include "music/abc_voice.h"

namespace loftbeat::music {

// Whether a bar line stands here: "|", "||", "|]", "[|", "[|]", ".|", "|:", ":|", "::" and what
// else people make of these signs.
[[nodiscard]] bool at_abc_bar_line(const AbcCursor& cursor);

// Takes the bar line that stands here, with the numbers of an ending right behind it (":|2").
// As many colons as there are, one more time is played.
[[nodiscard]] AbcBarLine take_abc_bar_line(AbcCursor& cursor, AbcReport& report);

// Takes "[1", "[1,3" or "[1-3"; false, without moving, if no ending begins here.
[[nodiscard]] bool take_abc_ending(AbcCursor& cursor, AbcReport& report, std::vector<int>& ending);

}  // namespace loftbeat::music
