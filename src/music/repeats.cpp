#include "music/repeats.h"

#include <algorithm>
#include <optional>
#include <unordered_map>

namespace loftbeat::music {
namespace {

// A run of bars under one bracket.
struct Ending {
  std::size_t begin = 0;
  std::size_t end = 0;  // one past its last bar
  std::vector<int> numbers;
  int last_number = 0;  // the highest number among the brackets that follow each other here
};

bool has(const std::vector<int>& numbers, int number) {
  return std::find(numbers.begin(), numbers.end(), number) != numbers.end();
}

// A bracket lasts to its stop, to a repeat sign or to the next bracket; else it is one bar long.
std::size_t ending_end(const std::vector<RepeatSigns>& bars, std::size_t begin) {
  for (std::size_t i = begin; i < bars.size(); ++i) {
    if (i > begin && !bars[i].ending.empty()) return i;
    if (bars[i].ending_stops || bars[i].backward > 0) return i + 1;
  }
  return begin + 1;
}

int highest(const Ending& ending) {
  return *std::max_element(ending.numbers.begin(), ending.numbers.end());
}

std::vector<Ending> find_endings(const std::vector<RepeatSigns>& bars) {
  std::vector<Ending> endings;
  for (std::size_t i = 0; i < bars.size(); ++i) {
    if (bars[i].ending.empty()) continue;
    endings.push_back({i, ending_end(bars, i), bars[i].ending, 0});
  }
  // Brackets side by side belong together; going backwards carries the highest number to all.
  for (std::size_t last = endings.size(); last > 0;) {
    std::size_t first = last - 1;
    int number = highest(endings[first]);
    while (first > 0 && endings[first - 1].end == endings[first].begin) {
      --first;
      number = std::max(number, highest(endings[first]));
    }
    for (std::size_t i = first; i < last; ++i) endings[i].last_number = number;
    last = first;
  }
  return endings;
}

// Where the signs of one kind stand, by label.
class Targets {
 public:
  void add(const std::string& label, std::size_t bar) {
    if (label.empty()) return;
    if (!any_) any_ = bar;
    bars_.emplace(label, bar);
  }
  // The first bar so labelled; failing that, the first of the kind.
  std::optional<std::size_t> find(const std::string& label) const {
    const auto found = bars_.find(label);
    return found == bars_.end() ? any_ : std::optional<std::size_t>(found->second);
  }

 private:
  std::unordered_map<std::string, std::size_t> bars_;
  std::optional<std::size_t> any_;
};

class Player {
 public:
  Player(const std::vector<RepeatSigns>& bars, std::size_t max_bars)
      : bars_(bars), max_bars_(max_bars), endings_(find_endings(bars)) {
    for (std::size_t i = 0; i < bars.size(); ++i) {
      segnos_.add(bars[i].segno, i);
      codas_.add(bars[i].coda, i);
    }
  }

  Result<std::vector<PlayedBar>> play() {
    while (at_ < bars_.size()) {
      if (order_.size() >= max_bars_) {
        return Error{ErrorKind::too_large, "the repeats unfold to more than " +
                                               std::to_string(max_bars_) + " bars; expected fewer"};
      }
      arrive();
      if (skip_ending()) continue;
      order_.push_back({at_, time_});
      leave();
    }
    return std::move(order_);
  }

 private:
  // The bracket that holds bar `i`, if any.
  const Ending* ending_of(std::size_t i) const {
    auto after = std::upper_bound(endings_.begin(), endings_.end(), i,
                                  [](std::size_t bar, const Ending& e) { return bar < e.begin; });
    if (after == endings_.begin()) return nullptr;
    const Ending& ending = *std::prev(after);
    return i < ending.end ? &ending : nullptr;
  }

  void begin_section(std::size_t bar) {
    section_ = bar;
    time_ = 1;
  }

  // A repeat begins here, or the brackets of the one before lie behind.
  void arrive() {
    const bool left_endings = at_ > section_ && ending_of(at_ - 1) && !ending_of(at_);
    if ((bars_[at_].forward && at_ != section_) || left_endings) begin_section(at_);
  }

  bool skip_ending() {
    const Ending* ending = ending_of(at_);
    if (!ending || at_ != ending->begin) return false;
    const int wanted = jumped_ ? ending->last_number : time_;
    if (has(ending->numbers, wanted)) return false;
    at_ = ending->end;
    return true;
  }

  bool repeat_again() {
    const int sign = bars_[at_].backward;
    if (sign == 0 || jumped_) return false;
    const Ending* ending = ending_of(at_);
    const int times = ending ? std::max(ending->last_number, sign) : sign;
    if (time_ < times) {
      ++time_;
      at_ = section_;
      return true;
    }
    begin_section(at_ + 1);
    return false;
  }

  void jump(std::size_t bar) {
    at_ = bar;
    begin_section(bar);
  }

  bool jump_back() {
    const RepeatSigns& signs = bars_[at_];
    if (jumped_) return false;
    std::optional<std::size_t> target;
    if (signs.da_capo) target = 0;
    if (!signs.dal_segno.empty()) target = segnos_.find(signs.dal_segno);
    if (!target || *target > at_) return false;
    jumped_ = true;
    jump(*target);
    return true;
  }

  bool jump_to_coda() {
    const RepeatSigns& signs = bars_[at_];
    if (!jumped_ || signs.to_coda.empty()) return false;
    const auto target = codas_.find(signs.to_coda);
    if (!target || *target <= at_) return false;
    jump(*target);
    return true;
  }

  void leave() {
    if (jumped_ && bars_[at_].fine) {
      at_ = bars_.size();
      return;
    }
    if (jump_to_coda() || repeat_again() || jump_back()) return;
    ++at_;
  }

  const std::vector<RepeatSigns>& bars_;
  std::size_t max_bars_;
  std::vector<Ending> endings_;
  Targets segnos_;
  Targets codas_;
  std::vector<PlayedBar> order_;
  std::size_t at_ = 0;
  std::size_t section_ = 0;  // where the repeat under way began
  int time_ = 1;
  bool jumped_ = false;
};

}  // namespace

void merge_signs(RepeatSigns& into, const RepeatSigns& from) {
  into.forward |= from.forward;
  into.backward = std::max(into.backward, from.backward);
  if (into.ending.empty()) into.ending = from.ending;
  into.ending_stops |= from.ending_stops;
  for (const auto label :
       {&RepeatSigns::segno, &RepeatSigns::coda, &RepeatSigns::to_coda, &RepeatSigns::dal_segno}) {
    if ((into.*label).empty()) into.*label = from.*label;
  }
  into.da_capo |= from.da_capo;
  into.fine |= from.fine;
}

Result<std::vector<PlayedBar>> play_order(const std::vector<RepeatSigns>& bars,
                                          std::size_t max_bars) {
  return Player(bars, max_bars).play();
}

}  // namespace loftbeat::music
