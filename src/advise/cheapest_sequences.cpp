#include "advise/cheapest_sequences.h"

#include <algorithm>
#include <tuple>

namespace loftbeat::advise {
namespace {

// One way to stand at a candidate of a pass: the cheapest, the next cheapest ...
struct Way {
  double cost = 0;
  std::uint32_t from = 0;  // candidate of the pass before
  std::uint32_t rank = 0;  // which of its ways
};

bool better(const Way& a, const Way& b) {
  return std::tie(a.cost, a.from, a.rank) < std::tie(b.cost, b.from, b.rank);
}

using Ways = std::vector<std::vector<Way>>;  // by candidate; cheapest first

// Keeps the `most` best, sorted.
void keep(std::vector<Way>& ways, const Way& way, std::size_t most) {
  if (ways.size() == most && !better(way, ways.back())) return;
  ways.insert(std::upper_bound(ways.begin(), ways.end(), way, better), way);
  if (ways.size() > most) ways.pop_back();
}

Ways begin_at(const std::vector<double>& cost) {
  Ways ways(cost.size());
  for (std::size_t c = 0; c < cost.size(); ++c) {
    if (cost[c] < kForbidden) ways[c].push_back({cost[c], 0, 0});
  }
  return ways;
}

Ways go_on(const Ways& before, const Steps& steps, const std::vector<double>& cost,
           std::size_t most) {
  Ways ways(cost.size());
  for (std::uint32_t from = 0; from < before.size(); ++from) {
    if (before[from].empty()) continue;
    for (const Step& step : steps[from]) {
      if (!(cost[step.to] < kForbidden)) continue;
      for (std::uint32_t rank = 0; rank < before[from].size(); ++rank) {
        const double sum = before[from][rank].cost + step.cost + cost[step.to];
        keep(ways[step.to], {sum, from, rank}, most);
      }
    }
  }
  return ways;
}

Sequence traced(const std::vector<Ways>& layers, const Way& last) {
  Sequence sequence{last.cost, std::vector<std::size_t>(layers.size())};
  std::uint32_t candidate = last.from;
  std::uint32_t rank = last.rank;
  for (std::size_t pass = layers.size(); pass-- > 0;) {
    sequence.candidates[pass] = candidate;
    const Way& way = layers[pass][candidate][rank];
    candidate = way.from;
    rank = way.rank;
  }
  return sequence;
}

}  // namespace

std::vector<Sequence> cheapest_sequences(const SequenceProblem& problem, std::size_t most) {
  if (problem.pass_cost.empty() || most == 0) return {};
  std::vector<Ways> layers = {begin_at(problem.pass_cost.front())};
  for (std::size_t pass = 1; pass < problem.pass_cost.size(); ++pass) {
    layers.push_back(go_on(layers.back(), *problem.joins[pass - 1], problem.pass_cost[pass], most));
  }
  std::vector<Way> ends;
  for (std::uint32_t c = 0; c < layers.back().size(); ++c) {
    for (std::uint32_t rank = 0; rank < layers.back()[c].size(); ++rank) {
      keep(ends, {layers.back()[c][rank].cost, c, rank}, most);
    }
  }
  std::vector<Sequence> sequences;
  for (const Way& end : ends) sequences.push_back(traced(layers, end));
  return sequences;
}

}  // namespace loftbeat::advise
