#include "window/notation/chord_shape.h"

#include <algorithm>
#include <cstdlib>
#include <map>

#include "window/notation/bar_picture.h"

namespace loftbeat::window {
namespace {

constexpr int kMiddleLine = 4;
constexpr double kAccidentalRoom = 1.1;
constexpr double kDotGap = 0.45;

std::size_t sounding_voices(const WrittenStaff& staff) {
  return static_cast<std::size_t>(
      std::count_if(staff.voices.begin(), staff.voices.end(), [](const WrittenVoice& voice) {
        return std::any_of(voice.chords.begin(), voice.chords.end(),
                           [](const WrittenChord& chord) { return !chord.heads.empty(); });
      }));
}

StemSide lone_stem(const std::vector<ShapedHead>& heads) {
  if (heads.empty()) return StemSide::up;
  return heads.front().place + heads.back().place >= 2 * kMiddleLine ? StemSide::down
                                                                     : StemSide::up;
}

// A head a second from its neighbour stands on the other side of the stem.
void part_seconds(ShapedChord& chord) {
  bool aside = false;
  const auto part = [&](ShapedHead& head, const ShapedHead& before) {
    aside = std::abs(head.place - before.place) <= 1 && !aside;
    if (aside) head.x += chord.stem == StemSide::up ? kHeadWidth : -kHeadWidth;
  };
  auto& heads = chord.heads;
  if (chord.stem == StemSide::up) {
    for (std::size_t i = 1; i < heads.size(); ++i) part(heads[i], heads[i - 1]);
  } else {
    for (std::size_t i = heads.size(); i-- > 1;) part(heads[i - 1], heads[i]);
  }
}

bool can_share_a_head(const WrittenChord& a, const WrittenChord& b) {
  const bool both_black = a.value >= 2 && b.value >= 2;
  return a.value != 0 && (both_black || a.value == b.value) && a.dots == b.dots;
}

// How far the lower voice steps aside for the upper.
double step_aside(const ShapedChord& upper, const ShapedChord& lower) {
  if (upper.heads.empty() || lower.heads.empty()) return 0;
  const int above = upper.heads.front().place;
  const int below = lower.heads.back().place;
  if (above > below + 1) return 0;
  if (above == below && can_share_a_head(*upper.written, *lower.written)) return 0;
  return above == below + 1 ? kHeadWidth + 0.05 : kHeadWidth + 0.25;
}

void clear_voices(ShapedColumn& column) {
  for (std::size_t i = 1; i < column.chords.size(); ++i) {
    ShapedChord& lower = column.chords[i];
    double shift = 0;
    for (std::size_t k = 0; k < i; ++k)
      shift = std::max(shift, column.chords[k].shift + step_aside(column.chords[k], lower));
    lower.shift = shift;
    for (ShapedHead& head : lower.heads) head.x += shift;
  }
}

// Signs closer than a sixth stand in columns of their own, leftwards from the heads.
void place_accidentals(ShapedColumn& column) {
  std::vector<ShapedHead*> signs;
  double left = 0;
  for (ShapedChord& chord : column.chords)
    for (ShapedHead& head : chord.heads) {
      left = std::min(left, head.x);
      if (head.written.accidental != Accidental::none) signs.push_back(&head);
    }
  std::sort(signs.begin(), signs.end(),
            [](const ShapedHead* a, const ShapedHead* b) { return a->place > b->place; });
  constexpr int kSixth = 6;
  std::vector<int> lowest;  // by column of signs
  for (ShapedHead* head : signs) {
    std::size_t at = 0;
    while (at < lowest.size() && lowest[at] - head->place < kSixth) ++at;
    if (at == lowest.size()) lowest.push_back(0);
    lowest[at] = head->place;
    head->accidental_x = left - 0.3 - kAccidentalRoom * (static_cast<double>(at) + 0.5);
  }
  column.left = -left + kAccidentalRoom * static_cast<double>(lowest.size()) + 0.35;
}

void place_dots(ShapedColumn& column) {
  constexpr double kRestWidth = 1.2;
  double right = kRestWidth;
  double dots = 0;
  double flag = 0;
  for (const ShapedChord& chord : column.chords) {
    for (const ShapedHead& head : chord.heads) right = std::max(right, head.x + kHeadWidth);
    dots = std::max(dots, static_cast<double>(chord.written->dots));
    if (chord.written->value >= 3 && chord.stem == StemSide::up) flag = 0.9;
  }
  for (ShapedChord& chord : column.chords) chord.dot_x = right + kDotGap;
  column.right = right + std::max(flag, dots * kDotGap + (dots > 0 ? 0.3 : 0));
}

}  // namespace

std::vector<ShapedColumn> shape_columns(const WrittenStaff& staff) {
  const bool lone = sounding_voices(staff) < 2;
  std::map<Tick, ShapedColumn> columns;
  for (std::size_t v = 0; v < staff.voices.size(); ++v) {
    for (const WrittenChord& written : staff.voices[v].chords) {
      ShapedChord chord;
      chord.written = &written;
      chord.voice = v;
      for (const WrittenHead& head : written.heads)
        chord.heads.push_back({head, head.place - lowest_line(staff.clef), 0, 0});
      chord.stem = v % 2 == 0 ? StemSide::up : StemSide::down;
      if (lone) chord.stem = lone_stem(chord.heads);
      part_seconds(chord);
      columns[written.at].chords.push_back(std::move(chord));
    }
  }
  std::vector<ShapedColumn> out;
  for (auto& [at, column] : columns) {
    column.at = at;
    clear_voices(column);
    place_accidentals(column);
    place_dots(column);
    out.push_back(std::move(column));
  }
  return out;
}

}  // namespace loftbeat::window
