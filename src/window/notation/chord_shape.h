#pragma once

#include <vector>

#include "window/notation/written_bar.h"

// Private to window/notation: where heads, stems and accidentals of what begins together stand.
namespace loftbeat::window {

enum class StemSide { up, down };

// One chord of one voice within its column. x counts from the left end of the column's heads,
// places are diatonic above the staff's lowest line (0 = lowest line, 8 = topmost).
struct ShapedHead {
  WrittenHead written;
  int place = 0;
  double x = 0;
  double accidental_x = 0;  // middle of the sign; only where there is one
};
struct ShapedChord {
  const WrittenChord* written = nullptr;
  std::size_t voice = 0;  // index into the staff's voices
  StemSide stem = StemSide::up;
  double shift = 0;  // of the whole chord, to clear another voice's
  std::vector<ShapedHead> heads;
  double dot_x = 0;  // first dot
};
// What begins at one tick on one staff. `left` and `right`: how far it reaches from the column's x.
struct ShapedColumn {
  Tick at = 0;
  std::vector<ShapedChord> chords;
  double left = 0;
  double right = 0;
};

// The columns of a staff, by time.
[[nodiscard]] std::vector<ShapedColumn> shape_columns(const WrittenStaff& staff);

}  // namespace loftbeat::window
