#include "timing/hesitations.h"

#include <algorithm>
#include <cmath>

#include "timing/tolerances.h"

namespace loftbeat::timing {

namespace {

bool explained(CutKind kind) { return kind != CutKind::interruption; }

// Looks along one pass for intervals that are too long.
class Search {
 public:
  Search(const Question& question, const FittedPass& pass)
      : question_(question),
        pass_(pass),
        full_bar_(first_full_bar(question.score, pass.way).value_or(0)),
        broadening_(planned_broadening(question.route, *pass.pass, pass.way)) {
    if (!broadening_ && pass.slowing)
      slowing_ = BroadeningOnWay{pass.slowing->from, pass.slowing->slowest_factor()};
  }

  void run(std::vector<Hesitation>& out) const {
    const auto& beats = pass_.pulse.beats;
    for (std::size_t i = 1; i < beats.size(); ++i) {
      const PulseBeat &a = beats[i - 1], &b = beats[i];
      if (excused(a, b)) continue;
      const double period = period_at(b.x);
      const double excess = b.t - a.t - period * allowed_beats(a.x, b.x);
      if (excess <= tolerance_s(a.x, period)) continue;
      const Tick at = latest_onset(a, b);
      out.push_back({at, music::bar_at(question_.score, at).number,
                     music::beat_in_bar(question_.score, at, pass_.way.beat()), excess / period,
                     excess * 1000});
    }
  }

 private:
  [[nodiscard]] bool excused(const PulseBeat& a, const PulseBeat& b) const {
    if (inside_held_note(b)) return true;
    const auto& cuts = pass_.pulse.cuts;
    auto cut =
        std::partition_point(cuts.begin(), cuts.end(), [&](const Cut& c) { return c.x <= a.x; });
    for (; cut != cuts.end() && cut->x <= b.x; ++cut)
      if (explained(cut->kind)) return true;
    return std::any_of(
        pass_.pass->corrections.begin(), pass_.pass->corrections.end(),
        [&](const follow::Correction& c) { return c.tick >= a.tick && c.tick <= b.tick; });
  }

  [[nodiscard]] bool inside_held_note(const PulseBeat& b) const {
    const bool broad = broadening_ && b.x > broadening_->from;
    return !b.used && b.x >= full_bar_ && !broad;
  }

  // A planned broadening, or a slowing told as such, may stretch its beats up to the slowest one.
  [[nodiscard]] double allowed_beats(double from, double to) const {
    const auto& slower = broadening_ ? broadening_ : slowing_;
    if (!slower || to <= slower->from) return to - from;
    const double broad = to - std::max(from, slower->from);
    return (to - from - broad) + broad * slower->factor;
  }

  // The pulse, or what it was before the end slowed.
  [[nodiscard]] double period_at(double x) const {
    return slowing_ && x > slowing_->from ? pass_.slowing->before_s : pass_.pulse.period_at(x);
  }

  [[nodiscard]] double tolerance_s(double from, double period) const {
    const double beats =
        from < full_bar_ ? kLongestBreathBeats : question_.plan.tolerances.hesitation_beats;
    return std::max(beats * period, kCoverage * std::sqrt(2.0) * pass_.pulse.jitter_s);
  }

  // The onset between two beats (or the later beat) before which most of the excess lies.
  [[nodiscard]] Tick latest_onset(const PulseBeat& a, const PulseBeat& b) const {
    auto place = std::partition_point(pass_.struck.begin(), pass_.struck.end(),
                                      [&](const StruckPlace& p) { return p.x <= a.x; });
    double x = a.x, t = a.t, most = 0;
    Tick at = b.tick;
    for (; place != pass_.struck.end() && place->x <= b.x; ++place) {
      const double excess = place->t - t - pass_.pulse.period_at(b.x) * (place->x - x);
      if (excess > most) {
        most = excess;
        at = place->tick;
      }
      x = place->x;
      t = place->t;
    }
    return at;
  }

  const Question& question_;
  const FittedPass& pass_;
  double full_bar_;
  std::optional<BroadeningOnWay> broadening_;  // planned
  std::optional<BroadeningOnWay> slowing_;     // not planned, and told as such
};

// End of the longest note struck at `at`.
Tick note_end(const music::Score& score, Tick at) {
  auto note = std::partition_point(score.notes.begin(), score.notes.end(),
                                   [at](const music::Note& n) { return n.onset < at; });
  Tick end = at;
  for (; note != score.notes.end() && note->onset == at; ++note)
    end = std::max(end, at + note->length);
  return end;
}

Measured<double> fermata_extra(const Question& question, const FittedPass& pass, Tick at,
                               double x) {
  if (!pass.pulse.known) return Measured<double>::unknown("the pass has no pulse");
  const double until = x + static_cast<double>(note_end(question.score, at) - at) /
                               static_cast<double>(pass.way.beat());
  if (until >= pass.way.length()) return Measured<double>::unknown("it ends the pass");
  for (const Cut& cut : pass.pulse.cuts)
    if (cut.x > x && cut.x <= until && cut.extra_s)
      return *cut.extra_s / pass.pulse.period_at(cut.x);
  return Measured<double>::unknown("no phrase ends there");
}

}  // namespace

void add_hesitations(const Question& question, const FittedPass& pass,
                     std::vector<Hesitation>& out) {
  if (!pass.pulse.known) return;
  Search(question, pass).run(out);
  std::stable_sort(out.begin(), out.end(),
                   [](const Hesitation& a, const Hesitation& b) { return a.at < b.at; });
}

std::vector<FermataPlayed> played_fermatas(const Question& question, const FittedPass& pass) {
  std::vector<FermataPlayed> played;
  for (const music::Fermata& fermata : question.score.fermatas) {
    const auto x = pass.way.place_of(fermata.at);
    if (!x || !pass.pass->covered.contains(fermata.at)) continue;
    FermataPlayed one;
    one.at = fermata.at;
    one.bar = music::bar_at(question.score, fermata.at).number;
    for (const plan::PlannedHold& hold : question.route.holds) {
      if (hold.at != fermata.at) continue;
      one.planned = hold.kind;
      one.planned_extra_beats = hold.extra_beats;
    }
    one.extra_beats = fermata_extra(question, pass, fermata.at, *x);
    played.push_back(one);
  }
  return played;
}

}  // namespace loftbeat::timing
