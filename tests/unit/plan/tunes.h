#pragma once

// Small scores made by hand, for the tests of this folder.

#include <algorithm>
#include <string>
#include <vector>

#include "music/score.h"

namespace loftbeat::plan {

inline constexpr Tick kQ = kTicksPerQuarter;

struct Metre {
  int beats = 4;
  int beat_type = 4;
  [[nodiscard]] Tick full() const { return 4 * kQ * beats / beat_type; }
};

// Adds bars and notes one after the other. Bars are numbered as printed: "0" for an upbeat.
class TuneMaker {
 public:
  explicit TuneMaker(Metre metre) : metre_(metre) {}

  TuneMaker& upbeat(Tick length) { return bar(length, "0", true); }
  TuneMaker& full_bars(int count) {
    for (int i = 0; i < count; ++i) bar(metre_.full());
    return *this;
  }
  TuneMaker& bar(Tick length) { return bar(length, std::to_string(next_number_++), false); }
  TuneMaker& bar(Tick length, const std::string& number, bool pickup) {
    score_.bars.push_back({score_.length, length, number, metre_.beats, metre_.beat_type, pickup});
    score_.length += length;
    return *this;
  }
  TuneMaker& metre(Metre metre) {
    metre_ = metre;
    return *this;
  }
  // Notes of the given lengths, one voice, from where the last one ended.
  TuneMaker& notes(const std::vector<Tick>& lengths) {
    for (const Tick length : lengths) {
      score_.notes.push_back({written_, length, 67, 0, 0});
      written_ += length;
    }
    return *this;
  }
  TuneMaker& rest(Tick length) {
    written_ += length;
    return *this;
  }
  TuneMaker& crotchets(int count) { return notes(std::vector<Tick>(std::size_t(count), kQ)); }
  TuneMaker& phrases(const std::vector<Tick>& starts) {
    for (std::size_t i = 0; i < starts.size(); ++i) {
      score_.phrases.push_back({{starts[i], i + 1 < starts.size() ? starts[i + 1] : 0}});
    }
    return *this;
  }
  TuneMaker& fermata(Tick at) {
    score_.fermatas.push_back({at});
    return *this;
  }
  [[nodiscard]] music::Score make() {
    if (!score_.phrases.empty()) score_.phrases.back().span.end = score_.length;
    score_.voices = score_.staves = 1;
    return score_;
  }

 private:
  Metre metre_;
  int next_number_ = 1;
  Tick written_ = 0;
  music::Score score_;
};

// 4/4, an upbeat crotchet, four phrases of two bars; each ends with a dotted minim (beats 1 to 3)
// so that the next upbeat falls on beat 4, and the last bar has three beats.
[[nodiscard]] inline music::Score common_metre_tune() {
  TuneMaker maker({4, 4});
  maker.upbeat(kQ).full_bars(7).bar(3 * kQ);
  for (int phrase = 0; phrase < 4; ++phrase) maker.crotchets(5).notes({3 * kQ});
  return maker.phrases({0, 8 * kQ, 16 * kQ, 24 * kQ}).make();
}

// 4/4 without upbeat, four phrases of two bars, each ending with a minim; last bar full.
[[nodiscard]] inline music::Score long_tune() {
  TuneMaker maker({4, 4});
  maker.full_bars(8);
  for (int phrase = 0; phrase < 4; ++phrase) maker.crotchets(6).notes({2 * kQ});
  return maker.phrases({0, 8 * kQ, 16 * kQ, 24 * kQ}).make();
}

}  // namespace loftbeat::plan
