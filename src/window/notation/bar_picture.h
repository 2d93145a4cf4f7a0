#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "music/score.h"
#include "window/notation/written_bar.h"

namespace loftbeat::window {

// Bars of a score laid out for drawing. One unit is the distance of two lines of a staff; y grows
// downwards. Values only; bar_painter.h draws them.

enum class Glyph {
  treble_clef,  // at the line that it names
  bass_clef,
  double_flat,  // at the middle of the sign
  flat,
  natural,
  sharp,
  double_sharp,
  breve_head,  // at the left end of the head
  whole_head,
  half_head,
  black_head,
  whole_rest,  // at the left end, on the middle line
  half_rest,
  quarter_rest,
  short_rest,  // as many hooks as `count`
  up_flag,     // at the tip of the stem, as many as `count`
  down_flag,
  dot,      // at its middle
  fermata,  // at the middle of its foot
};

struct PlacedGlyph {
  Glyph glyph;
  double x = 0;
  double y = 0;
  int count = 1;
};
struct PlacedLine {
  double x1 = 0;
  double y1 = 0;
  double x2 = 0;
  double y2 = 0;
  double width = 0.13;
};
// A stroke half a unit thick, its ends upright; y is its middle.
struct PlacedBeam {
  double x1 = 0;
  double y1 = 0;
  double x2 = 0;
  double y2 = 0;
};
struct PlacedTie {
  double x1 = 0;
  double x2 = 0;
  double y = 0;
  enum class Bend { up, down } bend = Bend::up;
};
struct PlacedText {
  double x = 0;  // middle
  double y = 0;  // base line
  double size = 2;
  std::string text;
};
// A head that can be chosen or marked. `x`, `y`: its middle.
struct PlacedHead {
  int note = -1;  // index into Score::notes
  int staff = 0;
  Tick at = 0;  // of this piece of the note
  double x = 0;
  double y = 0;
};

struct BarPicture {
  double width = 0;
  double height = 0;
  std::vector<PlacedGlyph> glyphs;
  std::vector<PlacedLine> lines;
  std::vector<PlacedBeam> beams;
  std::vector<PlacedTie> ties;
  std::vector<PlacedText> texts;
  std::vector<PlacedHead> heads;  // by time, then from the lowest up
};

inline constexpr double kHeadWidth = 1.18;
inline constexpr double kHeadRoom = 2;  // above the highest staff's notes, for words and numbers

// Bars [first, first + count) in one line, with clef, key and time signature before them. Requires
// count >= 1 and the bars to be there.
[[nodiscard]] BarPicture lay_out_bars(const music::Score& score, std::size_t first,
                                      std::size_t count);

}  // namespace loftbeat::window
