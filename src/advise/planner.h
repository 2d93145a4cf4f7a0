#pragma once

#include <cstddef>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "advise/plan_costs.h"

namespace loftbeat::advise {

// Finds registrations for the passes of a plan: out of the candidates of chorus_family the sequence
// that costs least, none of whose passes and joins has a finding of the plan's own check (notes
// are allowed, and a line too long for a breath, which no stop can shorten).
//
// Cost = for each pass, the distance from its wish and kDoubledCost where a pitch is doubled;
// for each join, move_cost times the leaning's weight; and the distance of the play-over from
// verse 1. The optimum is exact over the candidates.

struct SuggestionQuestion {
  const CheckContext* context = nullptr;  // with its console
  ListeningPlace place;
  // What the plan draws in each pass of the route; none where it states nothing. A pass that
  // states stops and no wish is wished to sound as it does; one with neither as `plain`, the
  // play-over as verse 1.
  std::vector<std::optional<organ::Registration>> stated;
  std::vector<std::size_t> held;    // stops drawn throughout
  std::vector<std::size_t> barred;  // stops never drawn
};

// Which way a suggestion leans: the weight of moves is 1, 4 or a quarter.
enum class Leaning { even, fewer_moves, nearer_wishes };
[[nodiscard]] double move_weight(Leaning leaning);

struct Suggestion {
  Leaning leaning = Leaning::even;
  std::vector<organ::Registration> drawn;  // one for each pass of the route
  std::vector<MeasuredRegistration> measured;
  std::vector<Wanted> wanted;  // what each pass was measured against
  PlanCheck check;
  double cost = 0;  // by its own leaning
  double wish_cost = 0;
  double promise_cost = 0;
  double move_cost = 0;  // of weight 1
  int joins_with_moves = 0;
};

// A pass whose wish nothing that may stand there comes near.
struct UnreachableWish {
  std::size_t pass = 0;  // of the route
  int line = 0;          // of the wish in the plan's file, 0 if not known
  BeyondReach beyond;
};

struct Suggestions {
  std::vector<Suggestion> plans;  // at most one for each leaning, each different; `even` first
  std::size_t candidates = 0;     // how many registrations were looked at
  // Where there is no plan: the first pass in which nothing may stand, and what most often stands
  // against it; or neither, if each pass has something but no way leads through.
  std::optional<std::size_t> stuck_at;
  std::optional<PlanFault> stuck_for;
  // By pass. Plans are found all the same, as near as can be; who asked should be told instead.
  std::vector<UnreachableWish> unreachable;
};

// Measures once what may be drawn, and then searches: about ten microseconds for each candidate and
// each different way of playing a pass; the search takes a fraction of that. What the question
// points to must outlive it.
class RegistrationPlanner {
 public:
  explicit RegistrationPlanner(const SuggestionQuestion& question);
  ~RegistrationPlanner();
  RegistrationPlanner(const RegistrationPlanner&) = delete;
  RegistrationPlanner& operator=(const RegistrationPlanner&) = delete;
  // The same each time, the second time quicker. One thread at a time.
  [[nodiscard]] Suggestions suggest() const;

 private:
  class Planner;
  std::unique_ptr<const Planner> planner_;
};

// Both in one.
[[nodiscard]] Suggestions suggest_registrations(const SuggestionQuestion& question);

}  // namespace loftbeat::advise
