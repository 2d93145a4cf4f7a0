#pragma once

#include "music/musicxml_written.h"

namespace loftbeat::music {

// Lays the bars of all parts over each other and fills WrittenScore::bars.
//
// Length: as far as the notes of any part reach; in a bar with nothing but whole-bar rests, their
// length, at most the metre's. Where a note alone reaches past a metre that another voice just
// fills, it rings on over the bar line and the bar is as long as its metre.
// Pickup: a first bar shorter than its metre, an implicit bar shorter than its metre, or the short
// second half of a divided bar; unless the file says implicit="no". The first bar's number is then
// "0"; a divided bar's second half has the number of the first where the file gives it none.
// Without a metre (senza misura) a bar's metre is its length in the largest fitting note value.
void combine_bars(WrittenScore& score);

}  // namespace loftbeat::music
