#pragma once

#include <cstdint>
#include <functional>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "practice/review.h"
#include "simulate/model_players.h"

namespace loftbeat::model_players {

// How the played notes are matched with the score before anything is measured.
enum class Follower {
  truth,  // by the simulator's own record: tries the measures alone
  real,   // by follow::align: tries the whole
};

// Reviews one simulated player. A failure to do so is told in `error`.
struct Reviewed {
  practice::Review review;
  std::string error;
};
[[nodiscard]] Reviewed review_of(const simulate::ModelCase& model, Follower follower);

// The findings of a review as one line of words, for messages.
[[nodiscard]] std::string findings_text(const practice::Review& review);

// The finding that a planted fault must lead to; a slip of phase may be early or late.
[[nodiscard]] bool names_fault(const practice::Finding& finding, simulate::FaultKind fault);

// Seeds [begin, end).
struct Seeds {
  std::uint64_t begin = 0;
  std::uint64_t end = 0;
};

// How many seeds went well, and what became of the others.
struct Rate {
  int good = 0;
  int all = 0;
  std::vector<std::string> others;
  [[nodiscard]] double share() const { return all == 0 ? 0 : static_cast<double>(good) / all; }
  [[nodiscard]] std::string text() const;
};

// Model players without fault: well is a review without any finding, whose stop moves are clean.
[[nodiscard]] Rate without_finding(Seeds seeds, Follower follower);
// With one fault: well is a review whose findings all name that fault, and one at least.
[[nodiscard]] Rate named_alone(simulate::FaultKind fault, Seeds seeds, Follower follower);

}  // namespace loftbeat::model_players
