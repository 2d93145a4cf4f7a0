#include "window/notation/stems.h"

#include <algorithm>
#include <cmath>
#include <span>

namespace loftbeat::window {
namespace {

constexpr double kStem = 3.5;
constexpr double kLeastBeamedStem = 2.8;
constexpr double kMostSlope = 1.0;
constexpr double kBeamStep = 0.75;
constexpr double kStub = 1.0;

int hooks(const StemWish& wish) { return std::max(0, wish.value - 2); }

double stem_x(const StemWish& wish) {
  return wish.side == StemSide::up ? wish.x + kHeadWidth - 0.065 : wish.x + 0.065;
}

// A stem reaches the middle line at least.
double tip_y(const StemWish& wish) {
  if (wish.side == StemSide::up) return std::min(wish.far_y - kStem, wish.middle);
  return std::max(wish.far_y + kStem, wish.middle);
}

void stem(const StemWish& wish, double tip, BarPicture& picture) {
  const double x = stem_x(wish);
  picture.lines.push_back({x, wish.near_y, x, tip, 0.13});
}

void tuplet_number(std::span<const StemWish> group, double y, BarPicture& picture) {
  if (group.front().tuplet == 1) return;
  const double x = (stem_x(group.front()) + stem_x(group.back())) / 2;
  picture.texts.push_back({x, y, 1.3, std::to_string(group.front().tuplet)});
}

void alone(const StemWish& wish, BarPicture& picture) {
  const double tip = tip_y(wish);
  stem(wish, tip, picture);
  if (hooks(wish) == 0) return;
  picture.glyphs.push_back({wish.side == StemSide::up ? Glyph::up_flag : Glyph::down_flag,
                            stem_x(wish), tip, hooks(wish)});
}

// The line of a beam: level with the outer tips, not too steep, and far enough from every head.
class BeamLine {
 public:
  explicit BeamLine(std::span<const StemWish> group) : x_(stem_x(group.front())) {
    const StemWish& first = group.front();
    const StemWish& last = group.back();
    const double rise = std::clamp(tip_y(last) - tip_y(first), -kMostSlope, kMostSlope);
    slope_ = rise / std::max(0.1, stem_x(last) - x_);
    y_ = tip_y(first);
    const double up = first.side == StemSide::up ? 1 : -1;
    double short_by = 0;
    for (const StemWish& wish : group) {
      const double room = (wish.far_y - y(stem_x(wish))) * up;
      short_by = std::max(short_by, kLeastBeamedStem + 0.25 * hooks(wish) - room);
    }
    y_ -= up * short_by;
  }
  [[nodiscard]] double y(double x) const { return y_ + slope_ * (x - x_); }

 private:
  double x_;
  double y_ = 0;
  double slope_ = 0;
};

void beamed(std::span<const StemWish> group, BarPicture& picture) {
  const BeamLine line(group);
  const double inward = group.front().side == StemSide::up ? 1 : -1;
  int most = 0;
  for (const StemWish& wish : group) {
    stem(wish, line.y(stem_x(wish)), picture);
    most = std::max(most, hooks(wish));
  }
  for (int level = 0; level < most; ++level) {
    const double down = inward * (kBeamStep * level + 0.25);
    for (std::size_t i = 0; i < group.size(); ++i) {
      if (hooks(group[i]) <= level) continue;
      std::size_t end = i;
      while (end + 1 < group.size() && hooks(group[end + 1]) > level) ++end;
      double from = stem_x(group[i]);
      double to = stem_x(group[end]);
      if (end == i) (i == 0 ? to : from) += i == 0 ? kStub : -kStub;
      picture.beams.push_back({from, line.y(from) + down, to, line.y(to) + down});
      i = end;
    }
  }
  const double middle = (stem_x(group.front()) + stem_x(group.back())) / 2;
  tuplet_number(group, line.y(middle) + (inward > 0 ? -0.4 : 1.5), picture);
}

}  // namespace

BeatGroups beat_groups(const music::Bar& bar) {
  const Tick unit = 4 * kTicksPerQuarter / bar.beat_type;
  const bool compound = bar.beats % 3 == 0 && bar.beats > 3 && bar.beat_type >= 8;
  BeatGroups groups;
  groups.group = compound ? 3 * unit : std::max(unit, kTicksPerQuarter);
  const Tick metre = unit * bar.beats;
  groups.origin = bar.pickup ? bar.start + bar.length - metre : bar.start;
  return groups;
}

void draw_stems(const std::vector<StemWish>& wishes, const BeatGroups& groups,
                BarPicture& picture) {
  const auto beat = [&](const StemWish& wish) { return (wish.at - groups.origin) / groups.group; };
  for (std::size_t i = 0; i < wishes.size();) {
    std::size_t end = i + 1;
    while (end < wishes.size() && hooks(wishes[i]) > 0 && hooks(wishes[end]) > 0 &&
           beat(wishes[end]) == beat(wishes[i]) && wishes[end].side == wishes[i].side &&
           wishes[end].at == wishes[end - 1].at + wishes[end - 1].length)
      ++end;
    if (end - i > 1) {
      beamed(std::span(wishes).subspan(i, end - i), picture);
    } else {
      alone(wishes[i], picture);
      const bool up = wishes[i].side == StemSide::up;
      tuplet_number(std::span(wishes).subspan(i, 1), tip_y(wishes[i]) + (up ? -0.4 : 1.5), picture);
    }
    i = end;
  }
}

}  // namespace loftbeat::window
