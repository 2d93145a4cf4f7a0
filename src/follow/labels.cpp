#include "follow/labels.h"

#include <algorithm>
#include <cstdlib>

namespace loftbeat::follow {
namespace {

bool is_tune(const plan::RoutePass& pass) {
  return pass.kind == plan::PassKind::play_over || pass.kind == plan::PassKind::verse;
}

// Plainly shorter than the tune: less than seven eighths of it were played.
bool is_partial(const PassRules& rules, const FoundPass& pass) {
  return pass.covered < (rules.score.length - rules.table[0].tick) * 7 / 8;
}

// The accompanied passes of the route in order; indices into Route::passes.
std::vector<int> route_order(const plan::Route& route) {
  std::vector<int> order;
  for (std::size_t i = 0; i < route.passes.size(); ++i) {
    if (is_tune(route.passes[i]) && !route.passes[i].unaccompanied) {
      order.push_back(static_cast<int>(i));
    }
  }
  return order;
}

struct Run {
  std::size_t first = 0;
  std::size_t last = 0;
  [[nodiscard]] std::size_t size() const { return last - first; }
};

std::vector<Run> runs_of(const std::vector<FoundPass>& passes) {
  std::vector<Run> runs;
  for (std::size_t i = 0; i < passes.size(); ++i) {
    if (runs.empty() || passes[i].run != passes[i - 1].run) runs.push_back({i, i});
    runs.back().last = i + 1;
  }
  return runs;
}

class Labeller {
 public:
  Labeller(const PassRules& rules, const std::vector<FoundPass>& passes)
      : rules_(rules), passes_(passes), order_(route_order(rules.route)) {
    labels_.of_pass.resize(passes.size());
  }

  Labels label() {
    std::size_t reached = 0;  // how far along the route the run before came
    for (const Run& run : runs_of(passes_)) {
      reached = continues(run, reached) ? along_route(run, reached) : whole_run(run);
    }
    if (labels_.source.empty()) labels_.source = "order";
    return std::move(labels_);
  }

 private:
  // A pause closed the run before, and what follows is exactly the rest of the route.
  [[nodiscard]] bool continues(const Run& run, std::size_t reached) const {
    return rules_.route.verses_known && reached > 0 && reached < order_.size() &&
           run.size() == order_.size() - reached;
  }

  std::size_t whole_run(const Run& run) {
    if (rules_.route.verses_known && rules_.route.play_over_known && !order_.empty()) {
      labels_.source = "plan";
      return along_route(run, skips_play_over(run) ? 1 : 0);
    }
    return guess(run);
  }

  [[nodiscard]] bool has_play_over() const {
    return !order_.empty() && rules_.route.passes[static_cast<std::size_t>(order_.front())].kind ==
                                  plan::PassKind::play_over;
  }

  // The planned play-over was left out: it is to be shorter than the tune, the first pass is not,
  // and there are no more passes than the plan has without it.
  [[nodiscard]] bool skips_play_over(const Run& run) const {
    if (!has_play_over()) return false;
    const auto& spans = rules_.route.passes[static_cast<std::size_t>(order_.front())].spans;
    Tick planned = 0;
    for (const TickSpan& span : spans) planned += span.length();
    const bool short_planned = planned < rules_.score.length * 7 / 8;
    return short_planned && !is_partial(rules_, passes_[run.first]) &&
           (!rules_.route.verses_known || run.size() < order_.size());
  }

  std::size_t along_route(const Run& run, std::size_t from) {
    std::size_t next = from;
    int verse = last_verse_before(next);
    for (std::size_t i = run.first; i < run.last; ++i, ++next) {
      Label& label = labels_.of_pass[i];
      if (next < order_.size()) {
        label.route_pass = order_[next];
        const plan::RoutePass& pass = rules_.route.passes[static_cast<std::size_t>(order_[next])];
        label.name = pass.label;
        label.kind = pass.kind;
        if (pass.kind == plan::PassKind::verse) verse = std::atoi(pass.label.c_str());
      } else {
        label.name = std::to_string(++verse);
      }
    }
    return next;
  }

  [[nodiscard]] int last_verse_before(std::size_t next) const {
    for (std::size_t i = std::min(next, order_.size()); i-- > 0;) {
      const plan::RoutePass& pass = rules_.route.passes[static_cast<std::size_t>(order_[i])];
      if (pass.kind == plan::PassKind::verse) return std::atoi(pass.label.c_str());
    }
    return 0;
  }

  // Verses, play-over, or both are to be found from the take.
  std::size_t guess(const Run& run) {
    const bool play_over = first_is_play_over(run);
    int verse = 0;
    for (std::size_t i = run.first; i < run.last; ++i) {
      Label& label = labels_.of_pass[i];
      if (i == run.first && play_over) {
        label.name = "play-over";
        label.kind = plan::PassKind::play_over;
      } else {
        label.name = std::to_string(++verse);
      }
      label.route_pass = route_pass_named(label.name);
    }
    return 0;
  }

  [[nodiscard]] bool first_is_play_over(const Run& run) {
    const FoundPass& first = passes_[run.first];
    if (rules_.route.play_over_known) {
      labels_.source = "plan";
      return has_play_over() && !skips_play_over(run);
    }
    if (rules_.route.verses_known) {
      labels_.source = "plan";
      const std::size_t verses = order_.size() - (has_play_over() ? 1 : 0);
      return run.size() > verses || is_partial(rules_, first);
    }
    if (is_partial(rules_, first) && run.size() > 1) {
      labels_.source = "order";
      return true;
    }
    if (rules_.score.lyric_verses > 0 &&
        run.size() == static_cast<std::size_t>(rules_.score.lyric_verses) + 1) {
      labels_.source = "lyrics";
      return true;
    }
    return false;
  }

  [[nodiscard]] int route_pass_named(const std::string& name) const {
    for (int i : order_) {
      if (rules_.route.passes[static_cast<std::size_t>(i)].label == name) return i;
    }
    return -1;
  }

  const PassRules& rules_;
  const std::vector<FoundPass>& passes_;
  std::vector<int> order_;
  Labels labels_;
};

}  // namespace

Labels label_passes(const PassRules& rules, const std::vector<FoundPass>& passes) {
  return Labeller(rules, passes).label();
}

}  // namespace loftbeat::follow
