#include "practice/click_rests.h"

#include <map>
#include <optional>
#include <utility>

namespace loftbeat::practice {
namespace {

using Struck = std::map<Tick, const timing::Beat*>;

// The first playing of each pass of the route, by its index there.
std::map<int, int> played_passes(const Review& review) {
  std::map<int, int> played;
  for (std::size_t i = 0; i < review.alignment.passes.size(); ++i)
    played.emplace(review.alignment.passes[i].route_pass, static_cast<int>(i));
  return played;
}

Struck struck_beats(const timing::PassMeasures& pass) {
  Struck struck;
  for (const timing::Beat& beat : pass.beats)
    if (beat.struck && beat.played_s) struck.emplace(beat.tick, &beat);
  return struck;
}

// Walks through the beats of one pass.
class RestFinder {
 public:
  RestFinder(int pass, Struck struck) : pass_(pass), struck_(std::move(struck)) {}

  void feed(const CountedBeat& beat) {
    ++number_;
    if (beat.clicked) close();
    const auto found = struck_.find(beat.tick);
    if (found == struck_.end()) return;
    const Place here{number_, *found->second->played_s - beat.seconds, found->second->bar};
    if (beat.clicked) {
      before_ = here;
    } else {
      if (!first_) first_ = here;
      last_ = here;
    }
  }
  void close() {
    if (before_ && first_ && last_)
      rests_.push_back({pass_, first_->bar, last_->bar, 1000 * (last_->late - before_->late),
                        static_cast<double>(last_->number - before_->number)});
    first_.reset();
    last_.reset();
  }
  [[nodiscard]] std::vector<ClickRest> rests() && { return std::move(rests_); }

 private:
  struct Place {
    int number = 0;
    double late = 0;  // s
    std::string bar;
  };
  int pass_;
  Struck struck_;
  int number_ = 0;
  std::optional<Place> before_;
  std::optional<Place> first_;
  std::optional<Place> last_;
  std::vector<ClickRest> rests_;
};

}  // namespace

std::vector<ClickRest> click_rests(const Review& review, const std::vector<CountedBeat>& beats) {
  std::vector<ClickRest> all;
  for (const auto& [route_pass, pass] : played_passes(review)) {
    RestFinder finder(pass, struck_beats(review.timing.passes[static_cast<std::size_t>(pass)]));
    for (const CountedBeat& beat : beats)
      if (beat.route_pass == route_pass) finder.feed(beat);
    finder.close();
    for (ClickRest& rest : std::move(finder).rests()) all.push_back(std::move(rest));
  }
  return all;
}

}  // namespace loftbeat::practice
