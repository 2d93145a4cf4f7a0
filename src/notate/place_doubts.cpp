#include "notate/place_doubts.h"

namespace loftbeat::notate {
namespace {

constexpr double kStraySdAQuarter = 0.02;  // of one between two chords, in seconds

// What chord `i` costs at a place, seen from its neighbours.
class Neighbourhood {
 public:
  Neighbourhood(const Placing& placing, const Setting& setting, std::size_t i)
      : setting_(setting),
        metrical_(setting),
        straying_(straying_of(setting)),
        before_(placing.chords[i - 1]),
        chord_(placing.chords[i]),
        after_(i + 1 < placing.chords.size() ? &placing.chords[i + 1] : nullptr),
        begin_s_(placing.line.seconds_at(before_.at)),
        end_(after_ != nullptr ? after_->at : before_.at + bar_length(setting)),
        end_s_(placing.line.seconds_at(end_)) {}

  [[nodiscard]] Tick begin() const { return before_.at; }
  [[nodiscard]] Tick end() const { return end_; }
  [[nodiscard]] bool may(Tick at) const { return metrical_.may_begin(at); }
  [[nodiscard]] double cost(Tick at) const {
    const double share =
        static_cast<double>(at - before_.at) / static_cast<double>(end_ - before_.at);
    const double due = begin_s_ + share * (end_s_ - begin_s_);
    const double off = chord_.mean_s - due;
    const double key = straying_.key_sd_s;
    const double stray = kStraySdAQuarter * kStraySdAQuarter * (1 + quarters(end_ - before_.at));
    const double variance = key * key / static_cast<double>(chord_.keys.size()) + stray;
    double sum = 0.5 * off * off / variance + metrical_.step_cost(before_.at, at);
    if (after_ != nullptr) sum += metrical_.step_cost(at, after_->at);
    return sum;
  }

 private:
  const Setting& setting_;
  Metrical metrical_;
  Straying straying_;
  const PlacedChord& before_;
  const PlacedChord& chord_;
  const PlacedChord* after_;
  double begin_s_;
  Tick end_;
  double end_s_;
};

}  // namespace

std::vector<PlaceDoubt> place_doubts(const Placing& placing, const Setting& setting, double most) {
  std::vector<PlaceDoubt> doubts;
  for (std::size_t i = 1; i < placing.chords.size(); ++i) {
    const Neighbourhood near(placing, setting, i);
    const Tick at = placing.chords[i].at;
    const double taken = near.cost(at);
    PlaceDoubt doubt{at, at, most};
    for (Tick other = near.begin() + Metrical::kGrain; other < near.end();
         other += Metrical::kGrain) {
      if (other == at || !near.may(other)) continue;
      const double margin = near.cost(other) - taken;
      if (margin < doubt.margin) doubt = {at, other, margin};
    }
    if (doubt.other != at) doubts.push_back(doubt);
  }
  return doubts;
}

}  // namespace loftbeat::notate
