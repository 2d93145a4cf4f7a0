#pragma once

#include <algorithm>
#include <map>
#include <optional>
#include <vector>

#include "music/musicxml_written.h"

namespace loftbeat::music {

// Tempo or key marks of all parts, by written bar, with what is in force where each bar begins.
template <typename Mark>
class MarkLane {
 public:
  // `marks` names the member of a bar that holds them. Of marks at one place the first part's last
  // one counts.
  MarkLane(const WrittenScore& score, std::vector<Mark> WrittenBar::*marks)
      : bars_(score.bars.size()) {
    for (std::size_t b = 0; b < bars_.size(); ++b) {
      for (const WrittenPart& part : score.parts) {
        if (b >= part.bars.size()) continue;
        std::map<Tick, Mark> own;
        for (const Mark& mark : part.bars[b].*marks) {
          own.insert_or_assign(std::min(mark.at, score.bars[b].length), mark);
        }
        bars_[b].marks.merge(own);
      }
      if (b > 0) bars_[b].in_force = last_of(bars_[b - 1]);
    }
  }

  // Appends what written bar `b` says when it is played from `start` on; returns how many marks
  // were looked at.
  std::size_t play(std::size_t b, Tick start, std::vector<Mark>& out) const {
    const PerBar& bar = bars_[b];
    if (bar.in_force && (out.empty() || !same(out.back(), *bar.in_force))) {
      put(out, *bar.in_force, start);
    }
    for (const auto& [at, mark] : bar.marks) put(out, mark, start + at);
    return bar.marks.size();
  }

 private:
  struct PerBar {
    std::map<Tick, Mark> marks;
    std::optional<Mark> in_force;
  };

  static bool same(Mark a, const Mark& b) {
    a.at = b.at;
    return a == b;
  }

  static void put(std::vector<Mark>& out, Mark mark, Tick at) {
    mark.at = at;
    if (!out.empty() && out.back().at == at) out.pop_back();
    out.push_back(mark);
  }

  static std::optional<Mark> last_of(const PerBar& bar) {
    return bar.marks.empty() ? bar.in_force : std::optional<Mark>(bar.marks.rbegin()->second);
  }

  std::vector<PerBar> bars_;
};

}  // namespace loftbeat::music
