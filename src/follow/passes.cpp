#include "follow/passes.h"

#include <algorithm>

namespace loftbeat::follow {
namespace {

// Score times that count as "the start": the upbeat and the first half of the first full bar.
Tick start_zone(const music::Score& score) {
  if (score.bars.empty()) return kTicksPerQuarter;
  const music::Bar& first =
      score.bars.front().pickup && score.bars.size() > 1 ? score.bars[1] : score.bars[0];
  return first.start + first.length / 2;
}

class Grouper {
 public:
  Grouper(const PassRules& rules, const take::CleanTake& take)
      : rules_(rules), take_(take), zone_(start_zone(rules.score)), ends_(take.notes.size()) {
    Instant latest{};
    for (std::size_t n = 0; n < take.notes.size(); ++n) {
      ends_[n] = latest = std::max(latest, take.notes[n].off);
    }
    for (const plan::RoutePass& pass : rules.route.passes) {
      if (pass.kind == plan::PassKind::play_over || pass.kind == plan::PassKind::verse) {
        if (!pass.unaccompanied) played_.push_back(&pass);
      }
    }
  }

  std::vector<FoundPass> group(std::vector<Stretch> stretches) {
    for (Stretch& stretch : stretches) place(std::move(stretch));
    return std::move(passes_);
  }

 private:
  [[nodiscard]] Tick tick(int onset) const { return rules_.table[onset].tick; }
  [[nodiscard]] Tick first_tick() const { return rules_.table[0].tick; }
  [[nodiscard]] Tick length(const Stretch& stretch) const {
    const int after = stretch.last_onset() + 1;
    const Tick end = after < rules_.table.size() ? tick(after) : rules_.score.length;
    return end - tick(stretch.first_onset());
  }
  [[nodiscard]] Tick half() const { return (first_tick() + rules_.score.length) / 2; }

  void place(Stretch stretch) {
    if (passes_.empty()) {
      open(std::move(stretch), 1);
    } else if (closed_by_silence(stretch)) {
      const int run = passes_.back().run + 1;
      open(std::move(stretch), run);
      in_run_ = 1;
    } else if (begins_new(stretch)) {
      open(std::move(stretch), passes_.back().run);
    } else {
      go_on(std::move(stretch));
    }
  }

  void open(Stretch stretch, int run) {
    FoundPass pass;
    pass.run = run;
    pass.begin = tick(stretch.first_onset());
    pass.furthest = tick(stretch.last_onset());
    pass.covered = length(stretch);
    pass.stretches.push_back(std::move(stretch));
    passes_.push_back(std::move(pass));
    ++in_run_;
  }

  void go_on(Stretch stretch) {
    FoundPass& pass = passes_.back();
    const Tick at = tick(stretch.first_onset());
    if (at < zone_ && at <= pass.furthest) {
      // All before was a false start: nothing of it stands.
      for (std::size_t i = pass.false_starts.size(); i < pass.stretches.size(); ++i) {
        pass.false_starts.push_back(i);
      }
      pass.furthest = at;
      pass.covered = 0;
      pass.begin = std::min(pass.begin, at);
    }
    pass.furthest = std::max(pass.furthest, tick(stretch.last_onset()));
    pass.covered += length(stretch);
    pass.stretches.push_back(std::move(stretch));
  }

  [[nodiscard]] bool closed_by_silence(const Stretch& stretch) const {
    if (stretch.first == 0) return false;
    return take_.notes[stretch.first].on - ends_[stretch.first - 1] > rules_.closes_run;
  }

  // The planned pass that the current one should be; null if there is none.
  [[nodiscard]] const plan::RoutePass* planned(std::size_t index) const {
    return index < played_.size() ? played_[index] : nullptr;
  }

  [[nodiscard]] bool reached_planned_end(const FoundPass& pass) const {
    const plan::RoutePass* plan = planned(in_run_ - 1);
    if (plan == nullptr || plan->spans.empty()) return false;
    const int end = rules_.table.at_or_after(plan->spans.back().end);
    const int begin = rules_.table.at_or_after(plan->spans.back().begin);
    // The very last chord may have been missed, unless that leaves nearly nothing.
    const int missed = end - begin >= 8 ? 2 : 1;
    return end > 0 && pass.furthest >= tick(std::max(0, end - missed)) &&
           pass.furthest <= tick(end - 1);
  }

  [[nodiscard]] bool ends_at_phrase(const FoundPass& pass) const {
    const int k = rules_.table.at_or_after(pass.furthest);
    for (int next = k + 1; next <= k + 2 && next < rules_.table.size(); ++next) {
      if (rules_.table[next].phrase_start) return true;
    }
    return false;
  }

  [[nodiscard]] bool begins_new(const Stretch& stretch) const {
    const FoundPass& pass = passes_.back();
    const Tick at = tick(stretch.first_onset());
    if (at > pass.furthest) return false;
    const plan::RoutePass* next = planned(in_run_);
    const bool as_planned = next != nullptr && !next->spans.empty() &&
                            at < next->spans.front().begin + zone_ &&
                            at >= next->spans.front().begin;
    if (as_planned && reached_planned_end(pass)) return true;
    if (at >= zone_) return pass.furthest - at > half();
    if (pass.begin >= zone_ || pass.furthest >= half()) return true;
    return may_be_play_over() && ends_at_phrase(pass);
  }

  // A first pass that breaks off at the end of a phrase may be a play-over nobody announced.
  [[nodiscard]] bool may_be_play_over() const {
    return in_run_ == 1 && !rules_.route.play_over_known;
  }

  const PassRules& rules_;
  const take::CleanTake& take_;
  Tick zone_;
  std::vector<Instant> ends_;  // latest release of notes up to each note
  std::vector<const plan::RoutePass*> played_;
  std::vector<FoundPass> passes_;
  std::size_t in_run_ = 0;  // passes begun in this run
};

}  // namespace

std::vector<FoundPass> group_passes(const PassRules& rules, const take::CleanTake& take,
                                    std::vector<Stretch> stretches) {
  return Grouper(rules, take).group(std::move(stretches));
}

}  // namespace loftbeat::follow
