#include "advise/plan_check.h"

#include <algorithm>
#include <tuple>

#include "plan/registration.h"

namespace loftbeat::advise {
namespace {

JoinFacts facts_of(const CheckContext& context, std::size_t join) {
  const plan::RoutePass& before = context.route->passes[join];
  const plan::RoutePass& after = context.route->passes[join + 1];
  const int stretch = context.limits.stretch_semitones;
  JoinFacts facts;
  facts.moves_at = plan::moves_at_of(*context.plan, after);
  facts.after_play_over = before.kind == plan::PassKind::play_over;
  facts.same_textures = before.textures == after.textures;
  facts.hand = free_hand_at_end(*context.score, before, stretch);
  facts.hand_after = free_hand_at_start(*context.score, after, stretch);
  facts.window = window_at_join(*context.plan, *context.score, before, after);
  if (facts.moves_at.kind != plan::MovesAtKind::phrase_end) return facts;
  const int phrase = facts.moves_at.phrase;
  facts.window =
      window_at_phrase_end(*context.plan, *context.score, *context.route, before, phrase);
  const Measured<Tick> chord = last_chord_of_phrase(*context.score, *context.route, phrase);
  if (chord) facts.hand = free_hand_at(*context.score, *chord, before, stretch);
  return facts;
}

}  // namespace

CheckContext make_check_context(const plan::Plan& plan, const music::Score& score,
                                const plan::Route& route, const ConsoleMap* console, int people) {
  CheckContext context;
  context.plan = &plan;
  context.score = &score;
  context.route = &route;
  context.console = console;
  context.people = people;
  context.limits.breath_seconds = plan.breath_seconds.value_or(context.limits.breath_seconds);
  for (const plan::RoutePass& pass : route.passes) {
    context.sounds.push_back(pass_sound(score, pass));
  }
  for (std::size_t j = 0; j < route.joins.size(); ++j) {
    context.joins.push_back(facts_of(context, j));
  }
  return context;
}

PlanCheck check_plan(const CheckContext& context, const std::vector<organ::Registration>& drawn,
                     const std::vector<MeasuredRegistration>& measured) {
  PlanCheck check;
  const auto add = [&](std::vector<PlanFinding> findings) {
    check.findings.insert(check.findings.end(), findings.begin(), findings.end());
  };
  const auto& passes = context.route->passes;
  const bool organ = context.console != nullptr && drawn.size() == passes.size();
  const bool church = organ && measured.size() == passes.size();
  const auto heard_in = [&](std::size_t pass) { return church ? &measured[pass] : nullptr; };
  for (std::size_t p = 0; p < passes.size(); ++p) {
    add(check_pass(context, p, organ ? drawn[p] : organ::Registration{}, heard_in(p)));
  }
  if (church && passes.size() > 1 && passes[0].kind == plan::PassKind::play_over &&
      !passes[1].unaccompanied) {
    add(check_play_over(context, 0, measured[0], measured[1]));
  }
  std::size_t sounding = 0;  // the last pass in which the organ played
  for (std::size_t j = 0; organ && j < context.joins.size(); ++j) {
    if (!passes[j].unaccompanied) sounding = j;
    const std::size_t to = passes[j + 1].unaccompanied ? sounding : j + 1;
    JoinCheck join =
        check_join(context, j, drawn[sounding], drawn[to], heard_in(sounding), heard_in(to));
    check.joins.push_back(std::move(join.work));
    add(std::move(join.findings));
  }
  sort_findings(check.findings);
  return check;
}

void sort_findings(std::vector<PlanFinding>& findings) {
  const auto order = [](const PlanFinding& finding) {
    return std::tuple(finding.fault, -finding.severity, finding.join, finding.pass);
  };
  std::stable_sort(findings.begin(), findings.end(),
                   [&](const PlanFinding& a, const PlanFinding& b) { return order(a) < order(b); });
}

}  // namespace loftbeat::advise
