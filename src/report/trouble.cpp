#include "report/trouble.h"

#include <algorithm>

#include "report/utf8.h"

namespace loftbeat::report {
namespace {

class Counter {
 public:
  explicit Counter(const practice::Review& review) : review_(review) {
    for (const music::Bar& bar : review.score.bars) table_.bars.push_back(clean_text(bar.number));
    table_.passes.assign(review.alignment.passes.size(),
                         std::vector<BarTrouble>(table_.bars.size()));
  }

  TroubleTable done() {
    for (const follow::MissedNote& missed : review_.alignment.missed) {
      const Tick at = review_.score.notes.at(static_cast<std::size_t>(missed.score)).onset;
      if (BarTrouble* bar = find(missed.pass, at)) count(bar->missed);
    }
    for (std::size_t i = 0; i < review_.alignment.notes.size(); ++i) {
      const follow::NoteMatch& match = review_.alignment.notes[i];
      if (match.kind != follow::MatchKind::extra || match.pass < 0) continue;
      const Tick at = place_of(match.pass, seconds(review_.take.notes.at(i).on));
      if (BarTrouble* bar = find(match.pass, at)) count(bar->wrong);
    }
    return std::move(table_);
  }

 private:
  void count(int& counter) { table_.most = std::max(table_.most, ++counter); }

  BarTrouble* find(int pass, Tick at) {
    const auto& bars = review_.score.bars;
    if (bars.empty() || pass < 0) return nullptr;
    const auto after = std::upper_bound(
        bars.begin(), bars.end(), at, [](Tick t, const music::Bar& bar) { return t < bar.start; });
    const auto index =
        static_cast<std::size_t>(std::max<std::ptrdiff_t>(0, after - bars.begin() - 1));
    return &table_.passes.at(static_cast<std::size_t>(pass))[index];
  }

  // Beats stand in the order of playing. A beat without a time is passed over by taking the last
  // one known.
  [[nodiscard]] Tick place_of(int pass, double at_s) const {
    const auto index = static_cast<std::size_t>(pass);
    if (index >= review_.timing.passes.size()) return 0;
    constexpr double kSlack = 0.05;  // a slip just before the beat belongs to it
    Tick place = 0;
    for (const timing::Beat& beat : review_.timing.passes[index].beats) {
      if (!beat.played_s) continue;
      if (*beat.played_s > at_s + kSlack) break;
      place = beat.tick;
    }
    return place;
  }

  const practice::Review& review_;
  TroubleTable table_;
};

}  // namespace

TroubleTable count_trouble(const practice::Review& review) { return Counter(review).done(); }

}  // namespace loftbeat::report
