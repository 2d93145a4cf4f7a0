// The planner against shortest paths found by another library.
// Source: igraph (its Dijkstra), a general-purpose graph library. The graph is laid out here: a
// node for each candidate in each pass, a weight for each way from one pass to the next; the
// weights are written down a second time in second_costs.h. Nothing of the planner's search is
// used.

#include <cstdio>
#include <memory>

#include <gtest/gtest.h>
#include <igraph/igraph.h>

#include "../../unit/advise_planner/second_costs.h"
#include "advise/planner.h"

namespace loftbeat::advise {
namespace {

constexpr std::size_t kStops = 10;

// A graph as lists.
class Layers {
 public:
  explicit Layers(const SecondCosts& costs) : costs_(costs) {
    for (std::size_t p = 0; p < costs.passes(); ++p) {
      least_.push_back(kNever);
      for (std::size_t c = 0; c < costs.candidates(); ++c)
        least_[p] = std::min(least_[p], costs.of_pass(p, c));
    }
    for (std::size_t c = 0; c < costs.candidates(); ++c) knobs_.push_back(bits_of(c));
  }

  // What no path can be cheaper than.
  [[nodiscard]] double floor() const {
    double sum = 0;
    for (const double least : least_) sum = least >= kNever ? kNever : sum + least;
    return sum;
  }

  // The shortest path of all that cost at most `bound`; kNever if there is none. Every path within
  // the bound lies in the graph whole: a node or a way is left out only where it, with the least
  // that all other passes cost, is dearer than the bound.
  [[nodiscard]] double shortest(double bound) {
    lay_out(bound);
    return by_igraph();
  }

 private:
  struct Knobs {
    std::vector<bool> stops;
    std::vector<bool> couplers;
  };
  [[nodiscard]] Knobs bits_of(std::size_t c) const {
    Knobs knobs{std::vector<bool>(64), std::vector<bool>(64)};
    for (const std::size_t stop : costs_.candidate(c).stops) knobs.stops[stop] = true;
    for (const std::size_t coupler : costs_.candidate(c).couplers) knobs.couplers[coupler] = true;
    return knobs;
  }
  [[nodiscard]] int moved(std::size_t a, std::size_t b) const {
    int count = 0;
    for (std::size_t i = 0; i < 64; ++i) {
      count += knobs_[a].stops[i] != knobs_[b].stops[i] ? 1 : 0;
      count += knobs_[a].couplers[i] != knobs_[b].couplers[i] ? 1 : 0;
    }
    return count;
  }

  void lay_out(double bound) {
    nodes_.assign(costs_.passes(), {});
    edges_.clear();
    weights_.clear();
    igraph_integer_t next = 1;  // 0 is the source
    for (std::size_t p = 0; p < costs_.passes(); ++p) {
      for (std::size_t c = 0; c < costs_.candidates(); ++c) {
        if (floor() - least_[p] + costs_.of_pass(p, c) > bound) continue;
        nodes_[p].push_back({c, next++});
      }
    }
    sink_ = next;
    for (const Node& node : nodes_.front()) add(0, node.number, costs_.of_pass(0, node.candidate));
    for (const Node& node : nodes_.back()) add(node.number, sink_, 0);
    for (std::size_t p = 0; p + 1 < costs_.passes(); ++p) join(p, bound);
  }

  void join(std::size_t p, double bound) {
    const double others = floor() - least_[p] - least_[p + 1];
    for (const Node& a : nodes_[p]) {
      for (const Node& b : nodes_[p + 1]) {
        const int knobs = moved(a.candidate, b.candidate);
        // Whatever moves costs so much a knob, and a movement at least as much as a piston.
        const double least_step = knobs == 0 ? 0 : 0.02 * knobs;
        const double passes = costs_.of_pass(p, a.candidate) + costs_.of_pass(p + 1, b.candidate);
        if (others + passes + least_step > bound) continue;
        const double step = costs_.of_join(p, a.candidate, b.candidate);
        if (step >= kNever) continue;
        add(a.number, b.number, step + costs_.of_pass(p + 1, b.candidate));
      }
    }
  }

  void add(igraph_integer_t from, igraph_integer_t to, double weight) {
    edges_.push_back(from);
    edges_.push_back(to);
    weights_.push_back(weight);
  }

  [[nodiscard]] double by_igraph() {
    igraph_vector_int_t edges;
    igraph_vector_int_init_array(&edges, edges_.data(),
                                 static_cast<igraph_integer_t>(edges_.size()));
    igraph_t graph;
    igraph_create(&graph, &edges, sink_ + 1, IGRAPH_DIRECTED);
    igraph_vector_t weights;
    igraph_vector_init_array(&weights, weights_.data(),
                             static_cast<igraph_integer_t>(weights_.size()));
    igraph_matrix_t distance;
    igraph_matrix_init(&distance, 1, 1);
    EXPECT_EQ(igraph_distances_dijkstra(&graph, &distance, igraph_vss_1(0), igraph_vss_1(sink_),
                                        &weights, IGRAPH_OUT),
              IGRAPH_SUCCESS);
    const double found = MATRIX(distance, 0, 0);
    igraph_matrix_destroy(&distance);
    igraph_vector_destroy(&weights);
    igraph_destroy(&graph);
    igraph_vector_int_destroy(&edges);
    return found >= kNever ? kNever : found;  // infinity: there is no path
  }

  struct Node {
    std::size_t candidate = 0;
    igraph_integer_t number = 0;
  };
  const SecondCosts& costs_;
  std::vector<double> least_;
  std::vector<Knobs> knobs_;
  std::vector<std::vector<Node>> nodes_;
  igraph_integer_t sink_ = 0;
  std::vector<igraph_integer_t> edges_;
  std::vector<double> weights_;
};

// The bound grows until a path within it is found: then no path beyond it can be cheaper. Where
// there is none at all, the bound has left nothing out in the end.
double cheapest(const SecondCosts& costs) {
  Layers layers(costs);
  const double floor = layers.floor();
  if (floor >= kNever) return kNever;
  for (double beyond = 0.1; beyond < 100; beyond *= 2) {
    const double found = layers.shortest(floor + beyond);
    if (found <= floor + beyond) return found;
  }
  return kNever;
}

std::unique_ptr<RandomCase> case_of_ten_stops(std::mt19937& random,
                                              const pipes::RankPowers& ranks) {
  while (true) {
    auto made = std::make_unique<RandomCase>(random, kStops, ranks);
    if (made->organ.stops.size() == kStops) return made;
  }
}

TEST(Planner, FindsTheShortestPathThatAnotherLibraryFinds) {
  std::mt19937 random(4711);
  const pipes::RankPowers ranks(parish().recipes);
  int found = 0;
  int moving = 0;
  std::size_t candidates = 0;
  for (int trial = 0; trial < cases(200); ++trial) {
    const auto at = case_of_ten_stops(random, ranks);
    const SecondCosts costs(*at);
    candidates = std::max(candidates, costs.candidates());
    const Suggestions suggestions = suggest_registrations(at->question);
    const double best = cheapest(costs);
    ASSERT_EQ(suggestions.plans.empty(), best >= kNever) << "trial " << trial;
    if (suggestions.plans.empty()) continue;
    ++found;
    ASSERT_NEAR(suggestions.plans.front().cost, best, 1e-9) << "trial " << trial;
    moving += suggestions.plans.front().joins_with_moves > 0 ? 1 : 0;
  }
  std::printf("%d cases with a plan, %d of them with moves; up to %zu candidates\n", found, moving,
              candidates);
  EXPECT_GT(found, cases(200) / 2);
  EXPECT_GT(moving, cases(200) / 5);
}

}  // namespace
}  // namespace loftbeat::advise
