#include <algorithm>
#include <cmath>
#include <map>

#include "advise/plan_check.h"
#include "advise/stop_effects.h"

namespace loftbeat::advise {
namespace {

PlanFinding of_pass(PlanFault fault, std::size_t pass, double figure, double limit,
                    std::string unit) {
  PlanFinding finding;
  finding.fault = fault;
  finding.pass = static_cast<int>(pass);
  finding.figure = figure;
  finding.limit = limit;
  finding.unit = std::move(unit);
  return finding;
}

// Seconds of a line at the set tempo, from its first note to the end of its last.
double sung_seconds(const music::Score& score, TickSpan span, double tick_s) {
  Tick first = span.end;
  Tick last = span.begin;
  for (const music::Note& note : score.notes) {
    if (!span.contains(note.onset)) continue;
    first = std::min(first, note.onset);
    last = std::max(last, std::min(note.onset + note.length, span.end));
  }
  return last > first ? static_cast<double>(last - first) * tick_s : 0;
}

void check_breath(const CheckContext& context, std::size_t pass, std::vector<PlanFinding>& out) {
  // The line is as long in every verse: it is told once.
  const auto& passes = context.route->passes;
  const auto first = std::find_if(passes.begin(), passes.end(), [](const plan::RoutePass& one) {
    return one.kind == plan::PassKind::verse;
  });
  if (first == passes.end() || static_cast<std::size_t>(first - passes.begin()) != pass) return;
  const Measured<double> tempo = set_tempo(*context.plan, *context.score);
  if (!tempo) return;
  const double tick_s = 60 / *tempo / static_cast<double>(plan::ticks(context.plan->beat));
  double longest = 0;
  int phrase = 0;
  const auto& phrases = context.route->phrases;
  for (std::size_t p = 0; p < phrases.size(); ++p) {
    const double seconds = sung_seconds(*context.score, phrases[p].span, tick_s);
    if (seconds <= longest) continue;
    longest = seconds;
    phrase = static_cast<int>(p) + 1;
  }
  const double breath = context.limits.breath_seconds;
  if (longest <= breath) return;
  PlanFinding finding = of_pass(PlanFault::long_breath, pass, longest, breath, "s");
  finding.severity = longest / breath;
  finding.phrase = phrase;
  finding.mend = Mend::breathe;
  finding.by = std::ceil(*tempo * longest / breath - *tempo);
  out.push_back(finding);
}

// Stops above 4' at one pitch that one key of a manual makes speak.
void check_doubled(const CheckContext& context, std::size_t pass,
                   const organ::Registration& by_hand, std::vector<PlanFinding>& out) {
  const organ::Organ& organ = *context.console->organ;
  const organ::Registration drawn = organ::with_crescendo(organ, by_hand);
  const PlayingOn on = playing_on(organ, drawn);
  if (!on.hands) return;
  std::vector<bool> speaks(organ.divisions.size());
  speaks[*on.hands] = true;
  for (const std::size_t index : drawn.couplers) {
    const organ::Coupler& coupler = organ.couplers[index];
    if (coupler.played_on == *on.hands && coupler.semitones == 0) speaks[coupler.sounds] = true;
  }
  std::map<long, std::vector<organ::ConsoleMove>> by_pitch;
  for (const std::size_t stop : drawn.stops) {
    const organ::Stop& one = organ.stops[stop];
    constexpr double kUpper = 3.9;  // feet: above 4'
    if (!speaks[one.division] || one.feet <= 0 || one.feet > kUpper) continue;
    by_pitch[std::lround(one.feet * 1000)].push_back({organ::ConsoleMove::What::stop, stop, 0});
  }
  for (const auto& [pitch, stops] : by_pitch) {
    if (stops.size() < 2) continue;
    PlanFinding finding = of_pass(PlanFault::doubled_upper_pitch, pass,
                                  static_cast<double>(stops.size()), 1, "stops");
    finding.severity = finding.figure;
    finding.controls = stops;
    finding.mend = Mend::none;
    out.push_back(finding);
  }
}

// Upper work drawn, the highest first: what to push in where it is too bright.
std::vector<organ::ConsoleMove> highest_upper(const organ::Organ& organ,
                                              const organ::Registration& drawn) {
  const auto height = [&](std::size_t stop) {  // mixtures are the highest
    return organ.stops[stop].family == organ::Family::mixture ? 0 : organ.stops[stop].feet;
  };
  std::optional<std::size_t> highest;
  for (const std::size_t stop : drawn.stops) {
    if (!is_upper_work(organ.stops[stop])) continue;
    if (!highest || height(stop) < height(*highest)) highest = stop;
  }
  if (!highest) return {};
  return {{organ::ConsoleMove::What::stop, *highest, 0}};
}

void check_balance(const CheckContext& context, std::size_t pass,
                   const MeasuredRegistration& measured, std::vector<PlanFinding>& out) {
  if (measured.silent || context.people <= 0) return;
  // Nobody sings a play-over; the Amen is short.
  if (context.route->passes[pass].kind != plan::PassKind::verse) return;
  const CheckLimits& limits = context.limits;
  const hearing::OverSinging& over = measured.heard.over;
  const double bright = limits.bright_share * over.singing_sone;
  if (context.people <= limits.few_people && over.exposure_sone > bright) {
    PlanFinding finding =
        of_pass(PlanFault::bright_for_few, pass, over.exposure_sone, bright, "sone");
    finding.severity = over.exposure_sone / bright;
    finding.controls = highest_upper(*context.console->organ, measured.drawn);
    finding.mend = finding.controls.empty() ? Mend::none : Mend::fewer_upper;
    out.push_back(finding);
  }
  const double lead = limits.lead_share * over.singing_sone;
  if (context.people >= limits.many_people && over.lead_sone < lead) {
    PlanFinding finding =
        of_pass(PlanFault::little_lead_for_many, pass, over.lead_sone, lead, "sone");
    finding.severity = lead / std::max(over.lead_sone, 0.1);
    finding.mend = Mend::more_upper;
    out.push_back(finding);
  }
}

}  // namespace

std::vector<PlanFinding> check_pass(const CheckContext& context, std::size_t pass,
                                    const organ::Registration& drawn,
                                    const MeasuredRegistration* measured) {
  std::vector<PlanFinding> findings;
  check_breath(context, pass, findings);
  if (context.console == nullptr || context.route->passes[pass].unaccompanied) return findings;
  check_doubled(context, pass, drawn, findings);
  if (measured != nullptr) check_balance(context, pass, *measured, findings);
  return findings;
}

std::vector<PlanFinding> check_play_over(const CheckContext& context, std::size_t pass,
                                         const MeasuredRegistration& play_over,
                                         const MeasuredRegistration& verse_1) {
  std::vector<PlanFinding> findings;
  if (verse_1.silent) return findings;
  const CheckLimits& limits = context.limits;
  const double ratio = play_over.silent ? 0 : play_over.heard.sone / verse_1.heard.sone;
  if (ratio < limits.play_over_ratio) {
    PlanFinding finding = of_pass(PlanFault::weak_play_over, pass, ratio, limits.play_over_ratio,
                                  "of verse 1's loudness");
    finding.severity = limits.play_over_ratio / std::max(ratio, 0.05);
    finding.mend = Mend::as_verse_1;
    findings.push_back(finding);
  }
  const Change change = change_between(verse_1.heard, play_over.heard);
  if (change.acum && *change.acum < limits.play_over_acum) {
    PlanFinding finding =
        of_pass(PlanFault::dull_play_over, pass, *change.acum, limits.play_over_acum, "acum");
    finding.severity = *change.acum / limits.play_over_acum;
    finding.mend = Mend::as_verse_1;
    findings.push_back(finding);
  }
  return findings;
}

}  // namespace loftbeat::advise
