#include "follow/rolled.h"

#include <algorithm>
#include <optional>

namespace loftbeat::follow {
namespace {

// Hands that play together are done sooner.
constexpr double kLeastSpreadNs = 250e6;
constexpr std::size_t kLeastNotes = 3;
// How much longer than the longest gap so far the roll's next gap may be.
constexpr double kGapGrowth = 2.0;
// Behind the last onset: the strike that is looked for comes within so many times the roll.
constexpr double kAfterTheEnd = 2.0;

double ns_of(Instant at) { return static_cast<double>(at.time_since_epoch().count()); }

struct Roll {
  double first = 0;
  double last = 0;
  double longest_gap = 0;
};

class Rolls {
 public:
  Rolls(const MatchTask& task, std::vector<Pair>& pairs)
      : task_(task),
        pairs_(pairs),
        pair_of_(task.score.notes.size(), -1),
        used_(task.last_note - task.first_note, false) {
    for (std::size_t i = 0; i < pairs_.size(); ++i) {
      pair_of_[static_cast<std::size_t>(pairs_[i].score)] = static_cast<int>(i);
      used_[place(pairs_[i].taken)] = true;
    }
  }

  void mend() {
    for (int k = task_.table.at_or_after(task_.from); k + 1 < task_.table.size(); ++k) {
      if (task_.table[k + 1].tick > task_.to) break;
      const std::optional<int> follower = only_pair(k + 1);
      if (!follower) continue;
      const std::optional<Roll> roll = roll_of(k);
      if (!roll) continue;
      const std::optional<int> owed = unpaired_twin(k, *follower);
      if (owed) hand_over(k, *roll, *owed, *follower);
    }
  }

 private:
  [[nodiscard]] std::size_t place(int taken) const {
    return static_cast<std::size_t>(taken) - task_.first_note;
  }
  [[nodiscard]] double at(int taken) const {
    return ns_of(task_.take.notes[static_cast<std::size_t>(taken)].on);
  }
  [[nodiscard]] int note(int k, std::uint32_t i) const {
    return task_.table.notes()[task_.table[k].first + i];
  }

  // The one pair of an onset; none if it has none or several.
  [[nodiscard]] std::optional<int> only_pair(int k) const {
    std::optional<int> only;
    for (std::uint32_t i = 0; i < task_.table[k].count; ++i) {
      const int pair = pair_of_[static_cast<std::size_t>(note(k, i))];
      if (pair < 0) continue;
      if (only) return std::nullopt;
      only = pair;
    }
    return only;
  }

  [[nodiscard]] std::optional<Roll> roll_of(int k) const {
    std::vector<double> times;
    for (std::uint32_t i = 0; i < task_.table[k].count; ++i) {
      const int pair = pair_of_[static_cast<std::size_t>(note(k, i))];
      if (pair >= 0) times.push_back(at(pairs_[static_cast<std::size_t>(pair)].taken));
    }
    if (times.size() < kLeastNotes) return std::nullopt;
    std::sort(times.begin(), times.end());
    Roll roll{times.front(), times.back(), 0};
    if (roll.last - roll.first < kLeastSpreadNs) return std::nullopt;
    for (std::size_t i = 1; i < times.size(); ++i) {
      roll.longest_gap = std::max(roll.longest_gap, times[i] - times[i - 1]);
    }
    return roll;
  }

  // The note of onset k that has the follower's pitch and no pair.
  [[nodiscard]] std::optional<int> unpaired_twin(int k, int follower) const {
    const auto of = static_cast<std::size_t>(pairs_[static_cast<std::size_t>(follower)].score);
    const int pitch = task_.score.notes[of].pitch;
    for (std::uint32_t i = 0; i < task_.table[k].count; ++i) {
      const auto index = static_cast<std::size_t>(note(k, i));
      if (pair_of_[index] < 0 && task_.score.notes[index].pitch == pitch) return note(k, i);
    }
    return std::nullopt;
  }

  void hand_over(int k, const Roll& roll, int owed, int follower) {
    Pair& pair = pairs_[static_cast<std::size_t>(follower)];
    const double struck = at(pair.taken);
    if (struck < roll.last || struck - roll.last > kGapGrowth * roll.longest_gap) return;
    const std::optional<int> later = free_strike(pair.taken, end_of_search(k + 1, roll, struck));
    if (!later) return;
    const double late = at(*later) - struck;
    pair_of_[static_cast<std::size_t>(owed)] = static_cast<int>(pairs_.size());
    used_[place(*later)] = true;
    const Pair last_of_roll{owed, pair.taken, pair.off_ns, false};
    pair.taken = *later;
    pair.off_ns += late;
    pairs_.push_back(last_of_roll);
  }

  // Before the next onset that was struck, or near enough to the roll when none was.
  [[nodiscard]] double end_of_search(int k, const Roll& roll, double struck) const {
    for (int next = k + 1; next < task_.table.size(); ++next) {
      if (task_.table[next].tick > task_.to) break;
      for (std::uint32_t i = 0; i < task_.table[next].count; ++i) {
        const int pair = pair_of_[static_cast<std::size_t>(note(next, i))];
        if (pair >= 0) return at(pairs_[static_cast<std::size_t>(pair)].taken);
      }
    }
    return struck + kAfterTheEnd * (struck - roll.first);
  }

  // The next free strike of the same key before `end`.
  [[nodiscard]] std::optional<int> free_strike(int after, double end) const {
    const auto& notes = task_.take.notes;
    const int pitch = notes[static_cast<std::size_t>(after)].pitch;
    for (std::size_t n = static_cast<std::size_t>(after) + 1; n < task_.last_note; ++n) {
      if (ns_of(notes[n].on) >= end) break;
      if (notes[n].pitch == pitch && !used_[n - task_.first_note]) return static_cast<int>(n);
    }
    return std::nullopt;
  }

  const MatchTask& task_;
  std::vector<Pair>& pairs_;
  std::vector<int> pair_of_;  // by score note, -1 = none
  std::vector<bool> used_;    // by taken note of the task
};

}  // namespace

void give_rolls_their_last_note(const MatchTask& task, std::vector<Pair>& pairs) {
  Rolls(task, pairs).mend();
}

}  // namespace loftbeat::follow
