#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <set>

#include "window/notation/bar_picture.h"
#include "window/notation/chord_shape.h"
#include "window/notation/stems.h"

namespace loftbeat::window {
namespace {

constexpr double kEdge = 0.6;
constexpr int kTopLine = 8;
constexpr double kStaffHeight = 4;
constexpr double kTieRoom = 1.6;  // of a tie that leads out of the picture

Glyph head_glyph(int value) {
  if (value < 0) return Glyph::breve_head;
  if (value == 0) return Glyph::whole_head;
  return value == 1 ? Glyph::half_head : Glyph::black_head;
}

Glyph accidental_glyph(Accidental accidental) {
  switch (accidental) {
    case Accidental::double_flat: return Glyph::double_flat;
    case Accidental::flat: return Glyph::flat;
    case Accidental::sharp: return Glyph::sharp;
    case Accidental::double_sharp: return Glyph::double_sharp;
    case Accidental::natural:
    case Accidental::none: break;
  }
  return Glyph::natural;
}

class BarsLayout {
 public:
  BarsLayout(const music::Score& score, std::size_t first, std::size_t count)
      : score_(score), plan_(score), first_(first) {
    for (std::size_t i = 0; i < count; ++i) bars_.push_back(write_bar(score, plan_, first + i));
    place_staves();
  }

  BarPicture done() {
    head_of_line();
    for (std::size_t i = 0; i < bars_.size(); ++i) {
      if (i > 0) changes(bars_[i - 1], bars_[i]);
      bar(bars_[i], score_.bars[first_ + i]);
      bar_line(first_ + i + 1 == score_.bars.size() && i + 1 == bars_.size());
    }
    staff_lines();
    ties();
    std::stable_sort(picture_.heads.begin(), picture_.heads.end(),
                     [](const PlacedHead& a, const PlacedHead& b) {
                       return a.at < b.at || (a.at == b.at && a.y > b.y);
                     });
    picture_.width = x_ + kEdge;
    picture_.height = tops_.back() + kStaffHeight + below_last_;
    return std::move(picture_);
  }

 private:
  struct TiedHead {
    WrittenHead written;
    double x = 0;
    double y = 0;
    PlacedTie::Bend bend = PlacedTie::Bend::up;
  };

  // Staves stand so far apart that the notes of all bars shown have room.
  void place_staves() {
    double y = kHeadRoom;
    double below = 0;
    for (int staff = 0; staff < plan_.staves(); ++staff) {
      int lowest = 0;
      int highest = kTopLine;
      for (const WrittenBar& bar : bars_)
        for (const WrittenVoice& voice : bar.staves[static_cast<std::size_t>(staff)].voices)
          for (const WrittenChord& chord : voice.chords)
            for (const WrittenHead& head : chord.heads) {
              const int place = head.place - lowest_line(plan_.clef(staff));
              lowest = std::min(lowest, place);
              highest = std::max(highest, place);
            }
      const double above = (highest - kTopLine) / 2.0 + 4;
      y += staff == 0 ? above : std::max(6.0, below + above - 1);
      tops_.push_back(y);
      y += kStaffHeight;
      below = -lowest / 2.0 + 4;
    }
    below_last_ = below + 0.6;
  }

  [[nodiscard]] double y_of(std::size_t staff, int place) const {
    return tops_[staff] + (kTopLine - place) / 2.0;
  }

  void glyph(Glyph glyph, double x, double y, int count = 1) {
    picture_.glyphs.push_back({glyph, x, y, count});
  }

  void head_of_line() {
    const double top = tops_.front();
    const double bottom = tops_.back() + kStaffHeight;
    picture_.lines.push_back({kEdge, top, kEdge, bottom, 0.16});
    picture_.texts.push_back({kEdge + 1.2, top - 2.2, 1.8, score_.bars[first_].number});
    x_ = kEdge + 0.7;
    for (std::size_t staff = 0; staff < tops_.size(); ++staff) {
      const bool treble = plan_.clef(static_cast<int>(staff)) == Clef::treble;
      glyph(treble ? Glyph::treble_clef : Glyph::bass_clef, x_, y_of(staff, treble ? 2 : 6));
    }
    x_ += 3.3;
    key_signature(bars_.front().fifths);
    time_signature(bars_.front());
  }

  // Places of the seven signs in the treble clef; the bass has them two places lower.
  void key_signature(int fifths) {
    constexpr std::array<int, 7> kSharps = {8, 5, 9, 6, 3, 7, 4};
    constexpr std::array<int, 7> kFlats = {4, 7, 3, 6, 2, 5, 1};
    const auto count = static_cast<std::size_t>(std::min(std::abs(fifths), 7));
    for (std::size_t i = 0; i < count; ++i) {
      for (std::size_t staff = 0; staff < tops_.size(); ++staff) {
        const int lower = plan_.clef(static_cast<int>(staff)) == Clef::treble ? 0 : 2;
        const int place = (fifths > 0 ? kSharps[i] : kFlats[i]) - lower;
        glyph(fifths > 0 ? Glyph::sharp : Glyph::flat, x_ + 0.5, y_of(staff, place));
      }
      x_ += 1.05;
    }
    if (count > 0) x_ += 0.5;
  }

  void time_signature(const WrittenBar& bar) {
    for (const double top : tops_) {
      picture_.texts.push_back({x_ + 1, top + 1.95, 2.6, std::to_string(bar.beats)});
      picture_.texts.push_back({x_ + 1, top + 3.95, 2.6, std::to_string(bar.beat_type)});
    }
    x_ += bar.beats > 9 ? 3.4 : 2.8;
  }

  void changes(const WrittenBar& before, const WrittenBar& bar) {
    x_ += 0.7;
    if (before.fifths != bar.fifths) key_signature(bar.fifths);
    if (before.beats != bar.beats || before.beat_type != bar.beat_type) time_signature(bar);
  }

  void bar(const WrittenBar& bar, const music::Bar& source) {
    std::vector<std::vector<ShapedColumn>> staves;
    std::map<Tick, std::pair<double, double>> room;  // left and right of each column
    for (const WrittenStaff& staff : bar.staves) {
      staves.push_back(shape_columns(staff));
      for (const ShapedColumn& column : staves.back()) {
        auto& [left, right] = room[column.at];
        left = std::max(left, column.left);
        right = std::max(right, column.right);
      }
    }
    const std::map<Tick, double> xs = place_columns(bar, room);
    const BeatGroups groups = beat_groups(source);
    for (std::size_t staff = 0; staff < staves.size(); ++staff) {
      const auto voices = bar.staves[staff].voices.size();
      for (const ShapedColumn& column : staves[staff])
        for (const ShapedChord& chord : column.chords)
          draw(staff, column, chord, xs.at(column.at), voices);
      for (std::size_t v = 0; v < voices; ++v)
        draw_stems(stems(staff, staves[staff], v, xs), groups, picture_);
    }
    for (const Tick at : bar.fermatas)
      if (const auto found = xs.find(at); found != xs.end())
        glyph(Glyph::fermata, found->second + kHeadWidth / 2, fermata_y(at));
  }

  // Over the topmost staff and over the stem of what stands there.
  [[nodiscard]] double fermata_y(Tick at) const {
    constexpr double kClear = 0.9;
    double y = tops_.front() - kClear;
    for (const PlacedHead& head : picture_.heads)
      if (head.at == at && head.staff == 0) y = std::min(y, head.y - 3.5 - kClear);
    return y;
  }

  // Longer notes get more room, but not in proportion; no column touches another.
  std::map<Tick, double> place_columns(const WrittenBar& bar,
                                       const std::map<Tick, std::pair<double, double>>& room) {
    std::map<Tick, double> xs;
    x_ += 0.6;
    double free_from = x_;
    for (auto at = room.begin(); at != room.end(); ++at) {
      const auto& [left, right] = at->second;
      const double x = std::max(x_, free_from + left);
      xs[at->first] = x;
      const auto next = std::next(at);
      const Tick until = next == room.end() ? bar.start + bar.length : next->first;
      x_ = x + 3.3 * std::pow(quarters(std::max<Tick>(until - at->first, 1)), 0.55);
      free_from = x + right + 0.3;
    }
    x_ = std::max(x_, free_from + 0.4);
    return xs;
  }

  void draw(std::size_t staff, const ShapedColumn& column, const ShapedChord& chord, double x,
            std::size_t voices) {
    if (chord.heads.empty()) return rest(staff, column, chord, x, voices);
    for (const ShapedHead& head : chord.heads) {
      const double y = y_of(staff, head.place);
      const double head_x = x + head.x;
      glyph(head_glyph(chord.written->value), head_x, y);
      ledger_lines(staff, head.place, head_x);
      picture_.heads.push_back(
          {head.written.note, static_cast<int>(staff), column.at, head_x + kHeadWidth / 2, y});
      if (head.written.accidental != Accidental::none)
        glyph(accidental_glyph(head.written.accidental), x + head.accidental_x, y);
      const bool up = chord.stem == StemSide::up;
      dots(chord, x,
           y_of(staff, head.place % 2 != 0 ? head.place
                       : up || voices < 2  ? head.place + 1
                                           : head.place - 1));
      const bool bend_up = voices > 1 ? up : !up;
      tied_.push_back(
          {head.written, head_x, y, bend_up ? PlacedTie::Bend::up : PlacedTie::Bend::down});
    }
  }

  void dots(const ShapedChord& chord, double x, double y) {
    for (int dot = 0; dot < chord.written->dots; ++dot)
      glyph(Glyph::dot, x + chord.dot_x + 0.5 * dot, y);
  }

  void ledger_lines(std::size_t staff, int place, double x) {
    const auto line = [&](int at) {
      const double y = y_of(staff, at);
      picture_.lines.push_back({x - 0.4, y, x + kHeadWidth + 0.4, y, 0.16});
    };
    for (int at = -2; at >= place; at -= 2) line(at);
    for (int at = kTopLine + 2; at <= place; at += 2) line(at);
  }

  // Where two voices rest alike, one rest stands for both.
  void rest(std::size_t staff, const ShapedColumn& column, const ShapedChord& chord, double x,
            std::size_t voices) {
    const auto alike = [&](const ShapedChord& other) {
      return &other != &chord && other.heads.empty() &&
             other.written->length == chord.written->length;
    };
    const auto twin = std::find_if(column.chords.begin(), column.chords.end(), alike);
    const bool both = twin != column.chords.end();
    if (both && twin->voice < chord.voice) return;
    constexpr double kAside = 2;
    double y = y_of(staff, 4);
    if (voices > 1 && !both) y += chord.stem == StemSide::up ? -kAside : kAside;
    const int value = chord.written->value;
    if (value >= 3) {
      glyph(Glyph::short_rest, x, y, value - 2);
    } else {
      glyph(value <= 0   ? Glyph::whole_rest
            : value == 1 ? Glyph::half_rest
                         : Glyph::quarter_rest,
            chord.written->whole_bar ? x + 1 : x, y);
    }
    dots(chord, x, y - 0.5);
  }

  std::vector<StemWish> stems(std::size_t staff, const std::vector<ShapedColumn>& columns,
                              std::size_t voice, const std::map<Tick, double>& xs) const {
    std::vector<StemWish> wishes;
    for (const ShapedColumn& column : columns)
      for (const ShapedChord& chord : column.chords) {
        if (chord.voice != voice || chord.heads.empty() || chord.written->value < 1) continue;
        const double low = y_of(staff, chord.heads.front().place);
        const double high = y_of(staff, chord.heads.back().place);
        const bool up = chord.stem == StemSide::up;
        wishes.push_back({column.at, chord.written->length, chord.written->value,
                          chord.written->tuplet, chord.stem, xs.at(column.at) + chord.shift,
                          up ? low : high, up ? high : low, y_of(staff, 4)});
      }
    return wishes;
  }

  void bar_line(bool last) {
    const double top = tops_.front();
    const double bottom = tops_.back() + kStaffHeight;
    if (last) {
      picture_.lines.push_back({x_, top, x_, bottom, 0.16});
      x_ += 0.7;
    }
    picture_.lines.push_back({x_, top, x_, bottom, last ? 0.45 : 0.16});
  }

  void staff_lines() {
    for (const double top : tops_)
      for (int line = 0; line <= kTopLine / 2; ++line)
        picture_.lines.push_back({kEdge, top + line, x_, top + line, 0.11});
  }

  void ties() {
    for (std::size_t i = 0; i < tied_.size(); ++i) {
      const TiedHead& head = tied_[i];
      const bool up = head.bend == PlacedTie::Bend::up;
      const double y = head.y + (up ? -0.75 : 0.75);
      const auto same = [&](const TiedHead& other) {
        return other.written.note == head.written.note && other.x > head.x;
      };
      if (head.written.tie_to) {
        double to = head.x + kHeadWidth + kTieRoom;
        for (const TiedHead& other : tied_)
          if (same(other) && (to == head.x + kHeadWidth + kTieRoom || other.x < to))
            to = other.x + 0.3;
        picture_.ties.push_back({head.x + kHeadWidth - 0.3, to, y, head.bend});
      }
      const bool begun = std::any_of(tied_.begin(), tied_.end(), [&](const TiedHead& other) {
        return other.written.note == head.written.note && other.x < head.x;
      });
      if (head.written.tie_from && !begun)
        picture_.ties.push_back({head.x - kTieRoom + 0.3, head.x + 0.3, y, head.bend});
    }
  }

  const music::Score& score_;
  StaffPlan plan_;
  std::size_t first_;
  std::vector<WrittenBar> bars_;
  std::vector<double> tops_;  // y of each staff's topmost line
  double below_last_ = 0;
  double x_ = 0;
  std::vector<TiedHead> tied_;
  BarPicture picture_;
};

}  // namespace

BarPicture lay_out_bars(const music::Score& score, std::size_t first, std::size_t count) {
  return BarsLayout(score, first, count).done();
}

}  // namespace loftbeat::window
