#pragma once

#include <cstddef>
#include <cstdint>
#include <limits>
#include <memory>
#include <vector>

namespace loftbeat::advise {

// The search under the planner: one candidate for each pass, so that what the passes cost and what
// the joins between them cost is the least in sum. It knows nothing of organs. Exact; the same
// input gives the same output. Pure, so it may be called in any thread.

inline constexpr double kForbidden = std::numeric_limits<double>::infinity();

// What a join lets happen: from each candidate the ones that may follow, and at what cost.
struct Step {
  std::uint32_t to = 0;
  double cost = 0;  // 0 or more, finite
};
using Steps = std::vector<std::vector<Step>>;  // by the candidate left

struct SequenceProblem {
  // What a candidate costs in a pass, 0 or more; kForbidden where it may not stand. By pass, then
  // by candidate; every pass has the same number of candidates.
  std::vector<std::vector<double>> pass_cost;
  // One for each join, passes - 1; none may be null. Joins that are alike share one.
  std::vector<std::shared_ptr<const Steps>> joins;
};

struct Sequence {
  double cost = 0;
  std::vector<std::size_t> candidates;  // one for each pass
  friend bool operator==(const Sequence&, const Sequence&) = default;
};

// The cheapest sequences, at most `most`, cheapest first; of equal cost, the one whose candidates
// come first when compared from the last pass backwards. Empty if no sequence is allowed. Time
// grows with the number of passes times the number of steps times log(most).
[[nodiscard]] std::vector<Sequence> cheapest_sequences(const SequenceProblem& problem,
                                                       std::size_t most);

}  // namespace loftbeat::advise
