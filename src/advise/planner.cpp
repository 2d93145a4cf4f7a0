#include "advise/planner.h"

#include <algorithm>
#include <limits>
#include <map>
#include <memory>
#include <set>
#include <unordered_map>
#include <utility>

#include "advise/cheapest_sequences.h"
#include "advise/chorus_family.h"
#include "advise/join_ways.h"
#include "advise/one_movement.h"
#include "plan/registration.h"

namespace loftbeat::advise {
namespace {

using organ::Registration;

// A finding that other stops would mend.
bool forbids(const PlanFinding& finding) {
  return !is_note(finding.fault) && finding.fault != PlanFault::long_breath;
}
const PlanFinding* first_forbidding(const std::vector<PlanFinding>& findings) {
  const auto found = std::find_if(findings.begin(), findings.end(), forbids);
  return found == findings.end() ? nullptr : &*found;
}
bool doubles_a_pitch(const std::vector<PlanFinding>& findings) {
  return std::any_of(findings.begin(), findings.end(), [](const PlanFinding& finding) {
    return finding.fault == PlanFault::doubled_upper_pitch;
  });
}

// Candidates that go on from each layer of a narrow search; as many as wanted.
constexpr std::size_t kNarrow = 48;
constexpr std::size_t kWhole = std::numeric_limits<std::size_t>::max();

constexpr Leaning kLeanings[] = {Leaning::even, Leaning::fewer_moves, Leaning::nearer_wishes};

bool played_alike(const plan::RoutePass& a, const plan::RoutePass& b) {
  return a.spans == b.spans && a.textures == b.textures &&
         a.transpose_semitones == b.transpose_semitones;
}

// One pass in which the organ plays, with every candidate measured and weighed there.
struct Layer {
  std::size_t pass = 0;
  std::shared_ptr<const std::vector<MeasuredRegistration>> measured;
  Wanted wanted;
  std::vector<double> cost;  // kForbidden where it may not stand
};

}  // namespace

class RegistrationPlanner::Planner {
 public:
  // Measures and weighs.
  explicit Planner(const SuggestionQuestion& question)
      : question_(question),
        context_(*question.context),
        organ_(*question.context->console->organ),
        one_movement_(*question.context->console) {
    collect_candidates();
    ground_.candidates = family_.size();
    lay_out_layers();
    ready_ = !family_.empty() && !layers_.empty() && weigh_layers();
    for (std::size_t l = 0; ready_ && l + 1 < layers_.size(); ++l) add_join(l);
  }

  // Searches.
  [[nodiscard]] Suggestions run() const {
    Suggestions suggestions = ground_;
    if (!ready_) return suggestions;
    const double steady = steady_cost();
    std::set<std::vector<std::size_t>> known;
    for (const Leaning leaning : kLeanings) {
      // Nothing that costs more than what a narrow search finds can be the best.
      const std::optional<Sequence> near = best_in(explore(leaning, steady, kNarrow));
      const double bound = near ? std::min(near->cost, steady) : steady;
      const std::optional<Sequence> best = best_in(explore(leaning, bound, kWhole));
      if (best && known.insert(best->candidates).second)
        suggestions.plans.push_back(told(leaning, *best));
    }
    return suggestions;
  }

 private:
  [[nodiscard]] const plan::RoutePass& route_pass(std::size_t pass) const {
    return context_.route->passes[pass];
  }

  // Whatever the plan states stands beside the choruses, but for what it holds or bars itself.
  void collect_candidates() {
    FamilyWish wish{question_.held, question_.barred, {}};
    for (const auto& stated : question_.stated) {
      if (stated && !stated->stops.empty() && keeps_to_wishes(*stated))
        wish.besides.push_back(*stated);
    }
    family_ = chorus_family(organ_, wish);
    for (const Registration& drawn : family_)
      bits_.push_back(one_movement_.can_tell() ? one_movement_.controls(drawn) : Controls{});
  }

  [[nodiscard]] bool keeps_to_wishes(const Registration& drawn) const {
    const auto drawn_there = [&](std::size_t stop) {
      return std::binary_search(drawn.stops.begin(), drawn.stops.end(), stop);
    };
    return std::all_of(question_.held.begin(), question_.held.end(), drawn_there) &&
           std::none_of(question_.barred.begin(), question_.barred.end(), drawn_there);
  }

  void lay_out_layers() {
    for (std::size_t pass = 0; pass < context_.route->passes.size(); ++pass) {
      if (route_pass(pass).unaccompanied || context_.sounds[pass].hands.empty()) continue;
      Layer layer;
      layer.pass = pass;
      const auto alike = std::find_if(layers_.begin(), layers_.end(), [&](const Layer& other) {
        return played_alike(route_pass(other.pass), route_pass(pass));
      });
      layer.measured = alike == layers_.end() ? measure_in(pass) : alike->measured;
      layers_.push_back(std::move(layer));
    }
  }

  [[nodiscard]] std::shared_ptr<const std::vector<MeasuredRegistration>> measure_in(
      std::size_t pass) const {
    auto measured = std::make_shared<std::vector<MeasuredRegistration>>();
    measured->reserve(family_.size());
    PassMeter meter(question_.place, context_.sounds[pass]);
    for (const Registration& drawn : family_) measured->push_back(meter.measure(drawn));
    return measured;
  }

  // False, and where it is stuck, if nothing may stand in a pass.
  bool weigh_layers() {
    for (Layer& layer : layers_) {
      std::map<PlanFault, int> against;
      layer.cost.assign(family_.size(), kForbidden);
      for (std::size_t c = 0; c < family_.size(); ++c) {
        const MeasuredRegistration& heard = (*layer.measured)[c];
        const auto findings = check_pass(context_, layer.pass, family_[c], &heard);
        const PlanFinding* forbidding = first_forbidding(findings);
        if (forbidding != nullptr) ++against[forbidding->fault];
        if (heard.silent || forbidding != nullptr) continue;
        layer.cost[c] = doubles_a_pitch(findings) ? kDoubledCost : 0;
      }
      if (*std::min_element(layer.cost.begin(), layer.cost.end()) < kForbidden) continue;
      ground_.stuck_at = layer.pass;
      const auto most =
          std::max_element(against.begin(), against.end(),
                           [](const auto& a, const auto& b) { return a.second < b.second; });
      if (most != against.end()) ground_.stuck_for = most->first;
      return false;
    }
    for (const Layer& layer : layers_) note_beyond_reach(layer);
    for (std::size_t l = layers_.size(); l-- > 0;) add_wish(l);
    return true;
  }

  // What the candidates allowed in a layer can do.
  [[nodiscard]] SoundRange range_of(const Layer& layer) const {
    SoundRange range{kForbidden, 0, kForbidden, 0, kForbidden, 0};
    for (std::size_t c = 0; c < family_.size(); ++c) {
      if (!(layer.cost[c] < kForbidden)) continue;
      const Heard& heard = (*layer.measured)[c].heard;
      const double acum = heard.sharpness_acum.value_or(0);
      range.least_sone = std::min(range.least_sone, heard.sone);
      range.most_sone = std::max(range.most_sone, heard.sone);
      range.least_acum = std::min(range.least_acum, acum);
      range.most_acum = std::max(range.most_acum, acum);
      range.least_lead = std::min(range.least_lead, heard.over.lead_sone);
      range.most_lead = std::max(range.most_lead, heard.over.lead_sone);
    }
    return range;
  }

  void note_beyond_reach(const Layer& layer) {
    const std::optional<plan::Wish> wish = plan::wish_of(*context_.plan, route_pass(layer.pass));
    if (!wish) return;
    for (const BeyondReach& beyond : beyond_reach(*wish, range_of(layer), context_.limits))
      ground_.unreachable.push_back({layer.pass, wish->line, beyond});
  }

  [[nodiscard]] Wanted wanted_in(std::size_t l) const {
    const Layer& layer = layers_[l];
    const plan::RoutePass& pass = route_pass(layer.pass);
    std::optional<plan::Wish> wish = plan::wish_of(*context_.plan, pass);
    if (wish) return wanted(*wish, range_of(layer));
    if (question_.stated[layer.pass] && !question_.stated[layer.pass]->stops.empty()) {
      return wanted_like(measure_registration(question_.place, *question_.stated[layer.pass],
                                              context_.sounds[layer.pass])
                             .heard);
    }
    // Later layers are weighed first, so that verse 1 is known.
    if (pass.kind == plan::PassKind::play_over && l + 1 < layers_.size())
      return layers_[l + 1].wanted;
    return wanted(plan::Wish{}, range_of(layer));
  }

  void add_wish(std::size_t l) {
    Layer& layer = layers_[l];
    layer.wanted = wanted_in(l);
    for (std::size_t c = 0; c < family_.size(); ++c) {
      if (layer.cost[c] < kForbidden)
        layer.cost[c] += distance(layer.wanted, (*layer.measured)[c].heard);
    }
  }

  // Whether layers l and l + 1 are a play-over and its verse 1.
  [[nodiscard]] bool is_promise(std::size_t l) const {
    return l == 0 && layers_[0].pass == 0 && layers_[1].pass == 1 &&
           route_pass(0).kind == plan::PassKind::play_over;
  }

  [[nodiscard]] double promise_cost(std::size_t l, std::size_t from, std::size_t to) const {
    if (!is_promise(l)) return 0;
    const MeasuredRegistration& before = (*layers_[l].measured)[from];
    const MeasuredRegistration& after = (*layers_[l + 1].measured)[to];
    if (!check_play_over(context_, 0, before, after).empty()) return kForbidden;
    return distance(wanted_like(after.heard), before.heard);
  }

  // Of weight 1. Most joins of a hymn are alike, and leanings ask again: each pair is checked once.
  [[nodiscard]] double moving_cost(std::size_t l, std::size_t from, std::size_t to) const {
    if (from == to) return 0;
    auto& known = checked_[like_[l]];
    const auto [found, is_new] = known.try_emplace(from * family_.size() + to, kForbidden);
    if (is_new) found->second = checked_moving_cost(l, from, to);
    return found->second;
  }

  [[nodiscard]] double checked_moving_cost(std::size_t l, std::size_t from, std::size_t to) const {
    const JoinCheck join =
        check_join(context_, layers_[l + 1].pass - 1, family_[from], family_[to],
                   &(*layers_[l].measured)[from], &(*layers_[l + 1].measured)[to]);
    if (first_forbidding(join.findings) != nullptr) return kForbidden;
    const std::size_t moved = controls_between(family_[from], family_[to]).size();
    return move_cost(join.work, moved, *context_.plan);
  }

  // The first join at which everything counts as at this one.
  [[nodiscard]] std::size_t first_like(std::size_t l) const {
    for (std::size_t k = 0; k < l; ++k) {
      if (layers_[k].measured == layers_[l].measured &&
          layers_[k + 1].measured == layers_[l + 1].measured &&
          alike(context_.joins[layers_[k + 1].pass - 1], context_.joins[layers_[l + 1].pass - 1]))
        return k;
    }
    return l;
  }

  // What drawing one candidate throughout costs at the least: no best sequence costs more.
  [[nodiscard]] double steady_cost() const {
    double best = kForbidden;
    for (std::size_t c = 0; c < family_.size(); ++c) {
      double sum = layers_.size() > 1 ? promise_cost(0, c, c) : 0;
      for (const Layer& layer : layers_) sum += layer.cost[c];
      best = std::min(best, sum);
    }
    return best;
  }

  // Whether a join asks for one movement; else there is time, or someone, for anything.
  [[nodiscard]] bool asks_one_movement(const JoinFacts& facts) const {
    const bool endless = facts.window && facts.window->lift_s >= kEndless;
    return one_movement_.can_tell() && !context_.plan->helper && !endless;
  }

  void add_join(std::size_t l) {
    ways_.push_back(ways_between(l));
    like_.push_back(first_like(l));
    checked_.emplace_back();
  }

  [[nodiscard]] std::shared_ptr<const Ways> ways_between(std::size_t l) const {
    const JoinFacts& facts = context_.joins[layers_[l + 1].pass - 1];
    const bool prepares = facts.moves_at.kind == plan::MovesAtKind::silent;
    const bool anywhere = !asks_one_movement(facts);
    for (const auto& known : ways_) {
      if (known->prepares == prepares && known->anywhere == anywhere) return known;
    }
    return std::make_shared<Ways>(
        anywhere ? Ways{prepares, true, {}}
                 : ways_by_one_movement(one_movement_, organ_, family_, facts.moves_at));
  }

  // Candidates of each layer that go on.
  using Living = std::vector<std::vector<std::size_t>>;
  [[nodiscard]] Living all_allowed() const {
    Living living;
    for (const Layer& layer : layers_) {
      living.emplace_back();
      for (std::size_t c = 0; c < family_.size(); ++c) {
        if (layer.cost[c] < kForbidden) living.back().push_back(c);
      }
    }
    return living;
  }

  // What must at the least follow each candidate of each layer, its own cost left out: as if every
  // way stood the check and moved at the least cost.
  using Tails = std::vector<std::vector<double>>;
  [[nodiscard]] Tails least_tails(double weight) const {
    Tails tails(layers_.size(), std::vector<double>(family_.size(), 0));
    for (std::size_t l = layers_.size() - 1; l-- > 0;) {
      const Ways& ways = *ways_[l];
      const auto after = [&](std::size_t to) { return layers_[l + 1].cost[to] + tails[l + 1][to]; };
      double anywhere = kForbidden;
      for (std::size_t to = 0; to < family_.size(); ++to) anywhere = std::min(anywhere, after(to));
      for (std::size_t from = 0; from < family_.size(); ++from) {
        double least = ways.anywhere ? anywhere : kForbidden;
        if (!ways.anywhere) {
          for (const std::uint32_t to : ways.to[from])
            least = std::min(least, after(to) + weight * least_move_cost(from, to, ways.prepares));
        }
        tails[l][from] = least;
      }
    }
    return tails;
  }

  // What can belong to a best sequence, with its moves.
  struct SearchSpace {
    Living living;
    std::vector<std::shared_ptr<const Steps>> moves;
  };

  // Goes forward from layer to layer, and leaves out what costs more than `bound` with the least
  // that it took to come there and the least that must follow: the best sequence stays. From each
  // layer only the `width` candidates go on that promise the least cost; with kWhole all.
  [[nodiscard]] SearchSpace explore(Leaning leaning, double bound, std::size_t width) const {
    SearchSpace space;
    Living living = all_allowed();
    const Tails tails = least_tails(move_weight(leaning));
    std::vector<double> reached = layers_[0].cost;
    const double most = bound + 1e-9;
    for (std::size_t l = 0; l < layers_.size(); ++l) {
      const auto promised = [&](std::size_t c) { return reached[c] + tails[l][c]; };
      std::erase_if(living[l], [&](std::size_t c) { return !(promised(c) <= most); });
      if (l + 1 == layers_.size()) break;
      std::stable_sort(living[l].begin(), living[l].end(),
                       [&](std::size_t a, std::size_t b) { return promised(a) < promised(b); });
      living[l].resize(std::min(living[l].size(), width));
      std::vector<double> next(family_.size(), kForbidden);
      const Frontier frontier{living[l], reached, tails[l + 1], most, move_weight(leaning)};
      space.moves.push_back(steps_of(l, frontier, next));
      reached = std::move(next);
    }
    space.living = std::move(living);
    return space;
  }

  // No move between the two costs less: what move_cost reckons for the controls that differ, and
  // for the cheapest movement if any must be made at the join.
  [[nodiscard]] double least_move_cost(std::size_t from, std::size_t to, bool prepares) const {
    const auto moved = static_cast<double>((bits_[from] ^ bits_[to]).count());
    return kControlCost * moved + (moved > 0 && !prepares ? kPistonCost : 0);
  }

  struct Frontier {
    const std::vector<std::size_t>& from;
    const std::vector<double>& reached;
    const std::vector<double>& tails;  // of the layer gone to
    double most;                       // what the whole may cost
    double weight;                     // of moves
  };

  // The ways between two layers, weighed; what reaching each candidate costs at the least goes to
  // `next`.
  [[nodiscard]] std::shared_ptr<const Steps> steps_of(std::size_t l, const Frontier& frontier,
                                                      std::vector<double>& next) const {
    const Ways& ways = *ways_[l];
    const std::vector<double>& cost = layers_[l + 1].cost;
    auto steps = std::make_shared<Steps>(family_.size());
    for (const std::size_t from : frontier.from) {
      const auto try_way = [&](std::size_t to) {
        const double so_far = frontier.reached[from] + cost[to];
        const double spare = frontier.most - so_far - frontier.tails[to];
        if (!(spare >= frontier.weight * least_move_cost(from, to, ways.prepares))) return;
        const double promise = promise_cost(l, from, to);
        if (promise > spare) return;
        const double way = promise + frontier.weight * moving_cost(l, from, to);
        if (!(way <= spare)) return;
        (*steps)[from].push_back({static_cast<std::uint32_t>(to), way});
        next[to] = std::min(next[to], so_far + way);
      };
      if (ways.anywhere) {
        for (std::size_t to = 0; to < family_.size(); ++to) try_way(to);
      } else {
        for (const std::uint32_t to : ways.to[from]) try_way(to);
      }
    }
    return steps;
  }

  [[nodiscard]] std::optional<Sequence> best_in(const SearchSpace& space) const {
    SequenceProblem problem;
    for (std::size_t l = 0; l < layers_.size(); ++l) {
      problem.pass_cost.emplace_back(family_.size(), kForbidden);
      for (const std::size_t c : space.living[l]) problem.pass_cost.back()[c] = layers_[l].cost[c];
    }
    problem.joins = space.moves;
    std::vector<Sequence> best = cheapest_sequences(problem, 1);
    if (best.empty()) return std::nullopt;
    return std::move(best.front());
  }

  [[nodiscard]] Suggestion told(Leaning leaning, const Sequence& sequence) const {
    Suggestion suggestion;
    suggestion.leaning = leaning;
    suggestion.cost = sequence.cost;
    for (std::size_t l = 0; l < layers_.size(); ++l) {
      const std::size_t c = sequence.candidates[l];
      suggestion.wish_cost += layers_[l].cost[c];
      if (l + 1 == layers_.size()) break;
      const std::size_t next = sequence.candidates[l + 1];
      suggestion.promise_cost += promise_cost(l, c, next);
      suggestion.move_cost += moving_cost(l, c, next);
      if (c != next) ++suggestion.joins_with_moves;
    }
    draw(sequence, suggestion);
    suggestion.check = check_plan(context_, suggestion.drawn, suggestion.measured);
    return suggestion;
  }

  // Passes in which the organ is silent have what stood before them, or comes first.
  void draw(const Sequence& sequence, Suggestion& suggestion) const {
    std::size_t l = 0;
    for (std::size_t pass = 0; pass < context_.route->passes.size(); ++pass) {
      while (l + 1 < layers_.size() && layers_[l + 1].pass <= pass) ++l;
      const Registration& drawn = family_[sequence.candidates[l]];
      suggestion.drawn.push_back(drawn);
      suggestion.measured.push_back(
          measure_registration(question_.place, drawn, context_.sounds[pass]));
      suggestion.wanted.push_back(layers_[l].pass == pass ? layers_[l].wanted : Wanted{});
    }
  }

  const SuggestionQuestion& question_;
  const CheckContext& context_;
  const organ::Organ& organ_;
  OneMovement one_movement_;
  std::vector<Registration> family_;
  std::vector<Controls> bits_;
  std::vector<Layer> layers_;
  std::vector<std::shared_ptr<const Ways>> ways_;  // between layers l and l + 1
  std::vector<std::size_t> like_;                  // by join: the first one that is like it
  mutable std::vector<std::unordered_map<std::size_t, double>> checked_;  // by that join
  Suggestions ground_;  // what is known before the search
  bool ready_ = false;
};

RegistrationPlanner::RegistrationPlanner(const SuggestionQuestion& question)
    : planner_(std::make_unique<Planner>(question)) {}
RegistrationPlanner::~RegistrationPlanner() = default;
Suggestions RegistrationPlanner::suggest() const { return planner_->run(); }

double move_weight(Leaning leaning) {
  constexpr double kOften = 4;
  if (leaning == Leaning::fewer_moves) return kOften;
  return leaning == Leaning::nearer_wishes ? 1 / kOften : 1;
}

Suggestions suggest_registrations(const SuggestionQuestion& question) {
  return RegistrationPlanner(question).suggest();
}

}  // namespace loftbeat::advise
