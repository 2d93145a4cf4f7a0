#include "crowd/who_led.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>
#include <utility>

#include "crowd/sung_pass.h"
#include "timing/robust.h"

namespace loftbeat::crowd {
namespace {

constexpr int kEntryBeats = 4;
// A scatter found from n intervals is itself uncertain: the uncertainty is taken (1 + 4 / n) times,
// as the tails of Student's distribution grow: a quarter more at 16, half as much again at 8.
constexpr double kFewIntervals = 4;
// Nobody sings so far from the organ (people.h: two beats): such a beat was taken for another one.
constexpr double kFarSeconds = 3;
constexpr double kEdge = 1e-6;
// Beats of singing that may lie outside the pass as played: late entries, held ends.
constexpr double kRoundPassSeconds = 5;

struct ComparedBeat {
  double place = 0;
  double struck_s = 0;
  double lag_s = 0;
};
struct Interval {
  double place = 0;    // its middle, beats
  double seconds = 0;  // a beat
};

// A pass as played, laid out as it was to be sung.
struct PlayedVerse {
  SungPass laid;
  std::vector<ComparedBeat> compared;
  std::vector<Interval> intervals;  // of the player
};

double beats_a_minute(double seconds) { return 60 / seconds; }

class Reckoning {
 public:
  explicit Reckoning(const LedQuestion& question) : q_(question) { find_passes(); }

  WhoLed reckon() {
    WhoLed all;
    std::vector<double> lags;
    std::vector<timing::LinePoint> row;
    double before = 0;  // beats of the verses so far
    std::vector<std::pair<int, PlayedVerse>> verses;
    for (const auto& [pass, beats] : sung_in_) {
      verses.emplace_back(pass, lay(static_cast<std::size_t>(pass), beats));
      if (verses.back().second.compared.empty()) verses.pop_back();
    }
    find_usual_scatter(verses);
    for (const auto& [pass, verse] : verses) {
      all.verses.push_back(judge(pass, verse));
      for (const ComparedBeat& beat : verse.compared) lags.push_back(1000 * beat.lag_s);
      for (const Interval& interval : verse.intervals)
        row.push_back({before + interval.place, interval.seconds, 0});
      before += verse.laid.length;
    }
    judge_all(all, std::move(lags), row);
    all.sentence = led_sentence(all);
    return all;
  }

 private:
  // The pass during which the most beats of one crowd pass were sung.
  void find_passes() {
    std::map<int, std::vector<const CrowdBeat*>> by_pass;
    for (const CrowdBeat& beat : q_.record.beats) by_pass[beat.pass].push_back(&beat);
    for (auto& [number, beats] : by_pass) {
      int best = -1;
      std::ptrdiff_t most = 0;
      for (std::size_t p = 0; p < q_.alignment.passes.size(); ++p) {
        const follow::AlignedPass& pass = q_.alignment.passes[p];
        const auto within = std::count_if(beats.begin(), beats.end(), [&](const CrowdBeat* beat) {
          const double at = seconds(beat->sung);
          return at >= seconds(pass.first_onset) &&
                 at <= seconds(pass.last_onset) + kRoundPassSeconds;
        });
        if (within > most) {
          most = within;
          best = static_cast<int>(p);
        }
      }
      if (best < 0) continue;
      std::vector<const CrowdBeat*>& into = sung_in_[best];
      into.insert(into.end(), beats.begin(), beats.end());
    }
  }

  [[nodiscard]] plan::RoutePass route_pass(const follow::AlignedPass& pass) const {
    const auto index = static_cast<std::size_t>(std::max(pass.route_pass, 0));
    if (pass.route_pass >= 0 && index < q_.route.passes.size() &&
        !q_.route.passes[index].spans.empty())
      return q_.route.passes[index];
    plan::RoutePass whole;
    whole.spans = pass.spans;
    if (whole.spans.empty()) whole.spans = {{0, q_.score.length}};
    return whole;
  }

  [[nodiscard]] PlayedVerse lay(std::size_t index,
                                const std::vector<const CrowdBeat*>& sung) const {
    const follow::AlignedPass& pass = q_.alignment.passes[index];
    const plan::RoutePass planned = route_pass(pass);
    PlayedVerse verse;
    verse.laid = sung_pass(q_.score, q_.route, planned, q_.beat);
    double near = 0;
    for (const CrowdBeat* beat : sung) {
      const auto place = verse.laid.place_of(beat->tick, near + 1);
      const auto struck = struck_at(pass, beat->tick);
      if (!place || !struck) continue;
      near = *place;
      const double lag = seconds(beat->sung) - *struck - q_.record.way_s();
      if (std::abs(lag) > kFarSeconds) continue;
      verse.compared.push_back({*place, *struck, lag});
    }
    add_intervals(pass, planned, verse);
    return verse;
  }

  static std::optional<double> struck_at(const follow::AlignedPass& pass, Tick tick) {
    for (const follow::StruckOnset& onset : pass.onsets)
      if (onset.tick == tick) return seconds(onset.median);
    return std::nullopt;
  }

  void add_intervals(const follow::AlignedPass& pass, const plan::RoutePass& planned,
                     PlayedVerse& verse) const {
    const std::vector<Knot>& knots = verse.laid.knots;
    double last_used = verse.laid.length - 2;
    if (planned.broaden_from) {
      const auto from = verse.laid.place_of(*planned.broaden_from, verse.laid.length);
      if (from) last_used = std::min(last_used, *from);
    }
    ComparedBeat before;   // place and stroke
    bool follows = false;  // it is the last beat but this
    for (const Knot& knot : knots) {
      const auto struck = struck_at(pass, knot.tick);
      const bool held = std::any_of(
          verse.laid.hold_ends.begin(), verse.laid.hold_ends.end(),
          [&](double end) { return end > before.place + kEdge && end <= knot.at + kEdge; });
      if (knot.phrase || held) follows = false;
      if (knot.at < 1 - kEdge || knot.at > last_used + kEdge || !struck || !knot.beat) continue;
      if (follows && *struck > before.struck_s) {
        const double beats = knot.at - before.place;
        verse.intervals.push_back(
            {(knot.at + before.place) / 2, (*struck - before.struck_s) / beats});
      }
      before = {knot.at, *struck, 0};
      follows = true;
    }
  }

  [[nodiscard]] VerseLed judge(int pass, const PlayedVerse& verse) const {
    VerseLed led;
    led.label = q_.alignment.passes[static_cast<std::size_t>(pass)].label;
    led.pass = pass;
    led.beats = static_cast<int>(verse.compared.size());
    led.entry_ms = 1000 * verse.compared.front().lag_s;
    std::vector<double> lags;
    for (std::size_t i = kEntryBeats; i < verse.compared.size(); ++i)
      lags.push_back(1000 * verse.compared[i].lag_s);
    add_phrases(verse, led);
    if (lags.size() < kLeastLedBeats || verse.intervals.size() < kLeastLedBeats) {
      for (Measured<double>* figure :
           {&led.lag_ms, &led.spread_ms, &led.tempo_bpm, &led.begin_bpm, &led.end_bpm,
            &led.slowing_percent, &led.uncertainty_percent})
        *figure = Measured<double>::unknown("too few beats were struck where people sang");
      return led;
    }
    led.lag_ms = timing::median(lags);
    led.spread_ms = timing::half_quartile_distance(lags);
    const Growth growth = growth_of(points_of(verse));
    led.tempo_bpm = beats_a_minute(growth.middle_s);
    led.begin_bpm = beats_a_minute(growth.begin_s);
    led.end_bpm = beats_a_minute(growth.end_s);
    led.slowing_percent = growth.percent;
    led.uncertainty_percent = growth.uncertainty;
    led.led = verdict(*led.lag_ms, growth);
    return led;
  }

  struct Growth {
    double middle_s = 1;
    double begin_s = 1;
    double end_s = 1;
    double percent = 0;
    double uncertainty = 0;
  };

  static std::vector<timing::LinePoint> points_of(const PlayedVerse& verse) {
    std::vector<timing::LinePoint> points;
    for (const Interval& one : verse.intervals) points.push_back({one.place, one.seconds, 0});
    return points;
  }

  // Few intervals may lie together by chance, so the scatter of all verses counts at least.
  void find_usual_scatter(const std::vector<std::pair<int, PlayedVerse>>& verses) {
    double squares = 0;
    double count = 0;
    for (const auto& [pass, verse] : verses) {
      const auto slope = timing::theil_sen(points_of(verse), verse.intervals.size());
      if (!slope || verse.intervals.size() < kLeastLedBeats) continue;
      squares += slope->scatter * slope->scatter;
      count += 1;
    }
    usual_scatter_s_ = count > 0 ? std::sqrt(squares / count) : 0;
  }

  // Requires two points at different places.
  [[nodiscard]] Growth growth_of(const std::vector<timing::LinePoint>& points) const {
    Growth growth;
    std::vector<double> values;
    std::vector<double> places;
    for (const timing::LinePoint& point : points) {
      values.push_back(point.t);
      places.push_back(point.x);
    }
    growth.middle_s = timing::median(values);
    const double middle = timing::median(places);
    // All pairs: the slope of a whole verse or take, not that of its parts.
    const auto slope = timing::theil_sen(points, points.size());
    if (!slope) return growth;
    growth.begin_s = growth.middle_s + slope->value * (places.front() - middle);
    growth.end_s = growth.middle_s + slope->value * (places.back() - middle);
    const double length = places.back() - places.front();
    growth.percent = 100 * slope->value * length / growth.middle_s;
    const double few = 1 + kFewIntervals / static_cast<double>(points.size());
    growth.uncertainty = 100 * slope->leverage * std::max(slope->scatter, usual_scatter_s_) * few *
                         length / growth.middle_s;
    return growth;
  }

  static Led verdict(double lag_ms, const Growth& growth) {
    const bool grows = growth.percent >= kLeastSlowingPercent &&
                       growth.percent >= kLeastSlowingUncertainties * growth.uncertainty;
    if (grows && lag_ms >= kLeastLagGivingWayMs) return Led::gave_way;
    const double least = std::max(kLeastLagMs, kLeastLagPercent * 10 * growth.middle_s);
    return lag_ms >= least ? Led::firm : Led::not_tested;
  }

  static void add_phrases(const PlayedVerse& verse, VerseLed& led) {
    std::vector<double> begins;
    for (const Knot& knot : verse.laid.knots)
      if (knot.phrase) begins.push_back(knot.at);
    begins.push_back(verse.laid.length + 1);
    for (std::size_t i = 0; i + 1 < begins.size(); ++i) {
      const auto inside = [&](double place) {
        return place >= begins[i] - kEdge && place < begins[i + 1] - kEdge;
      };
      std::vector<double> lags;
      std::vector<double> steps;
      for (const ComparedBeat& beat : verse.compared)
        if (inside(beat.place)) lags.push_back(1000 * beat.lag_s);
      for (const Interval& step : verse.intervals)
        if (inside(step.place)) steps.push_back(step.seconds);
      if (lags.empty()) continue;
      PhraseLag phrase;
      phrase.phrase = static_cast<int>(i) + 1;
      phrase.beats = static_cast<int>(lags.size());
      phrase.lag_ms = timing::median(lags);
      phrase.spread_ms = timing::half_quartile_distance(lags);
      phrase.tempo_bpm = steps.empty()
                             ? Measured<double>::unknown("no two beats in a row were struck")
                             : Measured<double>(beats_a_minute(timing::median(steps)));
      led.phrases.push_back(phrase);
    }
  }

  void judge_all(WhoLed& all, std::vector<double> lags,
                 const std::vector<timing::LinePoint>& row) const {
    if (lags.size() < kLeastLedBeats || row.size() < kLeastLedBeats) {
      for (Measured<double>* figure : {&all.lag_ms, &all.slowing_percent, &all.uncertainty_percent})
        *figure = Measured<double>::unknown("too few beats were struck where people sang");
      return;
    }
    all.lag_ms = timing::median(std::move(lags));
    const Growth growth = growth_of(row);
    all.slowing_percent = growth.percent;
    all.uncertainty_percent = growth.uncertainty;
    all.led = verdict(*all.lag_ms, growth);
    for (const VerseLed& verse : all.verses)
      if (verse.led == Led::gave_way) all.led = Led::gave_way;
  }

  const LedQuestion& q_;
  double usual_scatter_s_ = 0;  // of the player's intervals about the line of their verse
  std::map<int, std::vector<const CrowdBeat*>> sung_in_;  // by pass of the alignment
};

}  // namespace

WhoLed who_led(const LedQuestion& question) { return Reckoning(question).reckon(); }

}  // namespace loftbeat::crowd
