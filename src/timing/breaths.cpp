#include "timing/breaths.h"

#include <algorithm>
#include <cmath>
#include <map>

#include "timing/hesitations.h"
#include "timing/tolerances.h"

namespace loftbeat::timing {

namespace {

// A smaller breath than this, in beats, is not worth telling.
constexpr double kLeastBreathBeats = 0.05;

// Extra time at one cut in beats of the pulse there, the plan's own taken off.
struct Extra {
  double beats = 0;
  double uncertainty = 0;
};

Extra extra_at(const Pulse& pulse, const Cut& cut) {
  const double period = pulse.period_at(cut.x);
  return {*cut.extra_s / period - cut.planned_extra_beats, cut.leverage * pulse.jitter_s / period};
}

bool may_breathe(const Cut& cut) {
  return cut.extra_s && (cut.kind == CutKind::phrase_end || cut.kind == CutKind::hold);
}

// The extra times of all verses by place of the score.
class OtherVerses {
 public:
  explicit OtherVerses(const std::vector<FittedPass>& passes) {
    for (const FittedPass& p : passes) {
      if (!p.pulse.known || !is_verse(*p.pass)) continue;
      for (const Cut& cut : p.pulse.cuts)
        if (may_breathe(cut)) by_tick_[cut.tick].push_back(extra_at(p.pulse, cut).beats);
    }
    for (const auto& [tick, values] : by_tick_) medians_[tick] = median(values);
  }

  // What the other verses usually add there; nothing if there is no other. With four verses or
  // more the median of all serves, which one odd verse cannot turn.
  [[nodiscard]] std::optional<double> usual(Tick tick, double own, bool own_counts) const {
    const auto found = by_tick_.find(tick);
    if (found == by_tick_.end()) return std::nullopt;
    if (found->second.size() >= 4 || !own_counts) return medians_.at(tick);
    std::vector<double> others = found->second;
    const auto self = std::find(others.begin(), others.end(), own);
    if (self != others.end()) others.erase(self);
    if (others.empty()) return std::nullopt;
    return median(std::move(others));
  }

 private:
  std::map<Tick, std::vector<double>> by_tick_;
  std::map<Tick, double> medians_;
};

struct CutJudge {
  const Question& question;
  const FittedPass& pass;
  const OtherVerses& others;
  AddedTime& out;

  void judge(const Cut& cut, double& taken_out) const {
    const Extra extra = extra_at(pass.pulse, cut);
    const double usual =
        others.usual(cut.tick, extra.beats, is_verse(*pass.pass)).value_or(extra.beats);
    const double reach = kCoverage * extra.uncertainty;
    const double tolerance =
        std::max(question.plan.tolerances.hesitation_beats, reach) + slowing_beats(cut.x);
    const bool unlike = extra.beats - usual > tolerance;
    const bool too_long = extra.beats > kLongestBreathBeats + reach;
    const double planned_s = cut.planned_extra_beats * pass.pulse.period_at(cut.x);
    taken_out = planned_s;
    if (extra.beats > tolerance && (unlike || too_long)) {
      const double beyond = unlike ? extra.beats - std::max(usual, 0.0) : extra.beats;
      out.hesitations.push_back(hesitation(cut, beyond));
    } else if (extra.beats > std::max(kLeastBreathBeats, reach)) {
      out.breaths.push_back({cut.tick, music::bar_at(question.score, cut.tick).number,
                             beat_of(cut.tick), extra.beats});
      taken_out = *cut.extra_s;
    }
  }

  // What a slowing that is told as such may add between the beats that measure a cut.
  [[nodiscard]] double slowing_beats(double x) const {
    if (!pass.slowing || x < pass.slowing->from) return 0;
    return (pass.slowing->slowest_factor() - 1) * static_cast<double>(kStepBeats);
  }

  [[nodiscard]] double beat_of(Tick tick) const {
    return music::beat_in_bar(question.score, tick, pass.way.beat());
  }

  [[nodiscard]] Hesitation hesitation(const Cut& cut, double beats) const {
    return {cut.tick, music::bar_at(question.score, cut.tick).number, beat_of(cut.tick), beats,
            beats * pass.pulse.period_at(cut.x) * 1000};
  }
};

AddedTime judge_cuts(const Question& question, const FittedPass& pass, const OtherVerses& others) {
  AddedTime added;
  added.taken_out_s.assign(pass.pulse.cuts.size(), 0);
  if (!pass.pulse.known) return added;
  const CutJudge judge{question, pass, others, added};
  for (std::size_t i = 0; i < pass.pulse.cuts.size(); ++i) {
    const Cut& cut = pass.pulse.cuts[i];
    if (may_breathe(cut)) judge.judge(cut, added.taken_out_s[i]);
    const bool anew = cut.kind == CutKind::free_hold || cut.kind == CutKind::omission;
    if (anew && cut.extra_s) added.taken_out_s[i] = *cut.extra_s;
  }
  return added;
}

// Without known phrases: hesitations of at most half a beat that most verses share are breaths.
void excuse_shared(const std::vector<FittedPass>& passes, std::vector<AddedTime>& added) {
  std::map<Tick, std::size_t> verses_with;
  std::size_t verses = 0;
  for (std::size_t i = 0; i < passes.size(); ++i) {
    if (!is_verse(*passes[i].pass)) continue;
    ++verses;
    for (const Hesitation& h : added[i].hesitations) ++verses_with[h.at];
  }
  if (verses < 2) return;
  for (AddedTime& a : added) {
    const auto shared =
        std::stable_partition(a.hesitations.begin(), a.hesitations.end(), [&](const Hesitation& h) {
          return h.extra_beats > kLongestBreathBeats || 2 * verses_with[h.at] <= verses;
        });
    for (auto h = shared; h != a.hesitations.end(); ++h)
      a.breaths.push_back({h->at, h->bar, h->beat, h->extra_beats});
    a.hesitations.erase(shared, a.hesitations.end());
  }
}

}  // namespace

std::vector<AddedTime> tell_breaths(const Question& question,
                                    const std::vector<FittedPass>& passes) {
  const OtherVerses others(passes);
  std::vector<AddedTime> added;
  for (const FittedPass& pass : passes) {
    added.push_back(judge_cuts(question, pass, others));
    add_hesitations(question, pass, added.back().hesitations);
    added.back().fermatas = played_fermatas(question, pass);
  }
  if (question.route.phrases.size() < 2) excuse_shared(passes, added);
  return added;
}

}  // namespace loftbeat::timing
