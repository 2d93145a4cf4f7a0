#include "report/plan_text.h"

#include <algorithm>

#include <fmt/format.h>

#include "advise/plan_sentences.h"
#include "report/measure_tables.h"
#include "report/report.h"
#include "report/text_writer.h"

namespace loftbeat::report {
namespace {

void write_drawn(TextWriter& text, const CheckedPlan& plan) {
  text.heading("What is drawn");
  const organ::Organ& organ = *plan.context->console->organ;
  const auto& passes = plan.context->route->passes;
  for (std::size_t i = 0; i < plan.drawn.size() && i < passes.size(); ++i) {
    const bool same = i > 0 && plan.drawn[i] == plan.drawn[i - 1];
    text.item("  ", clean_text(fmt::format("{}: {}", pass_label(passes[i]),
                                           same ? "the same" : drawn_words(organ, plan.drawn[i]))));
  }
}

void write_joins(TextWriter& text, const CheckedPlan& plan) {
  text.heading("The move at every join");
  const auto& passes = plan.context->route->passes;
  for (const advise::JoinWork& join : plan.check->joins) {
    const auto next = static_cast<std::size_t>(join.join) + 1;
    text.item("  ", clean_text(fmt::format("before {}: {}", pass_label(passes[next]),
                                           advise::describe(*plan.context, join))));
  }
}

void write_findings(TextWriter& text, const CheckedPlan& plan) {
  int number = 0;
  text.heading("What stands against it");
  for (const advise::PlanFinding& finding : plan.check->findings) {
    if (advise::is_note(finding.fault)) continue;
    text.item(fmt::format("{:>2}. ", ++number),
              clean_text(advise::sentence(*plan.context, finding)));
  }
  if (number == 0) text.line("  Nothing.");
  const auto& findings = plan.check->findings;
  const bool notes = std::any_of(findings.begin(), findings.end(), [](const auto& finding) {
    return advise::is_note(finding.fault);
  });
  if (!notes) return;
  text.heading("Worth knowing");
  for (const advise::PlanFinding& finding : findings) {
    if (advise::is_note(finding.fault))
      text.item("  ", clean_text(advise::sentence(*plan.context, finding)));
  }
}

}  // namespace

std::string pass_label(const plan::RoutePass& pass) {
  return pass.kind == plan::PassKind::verse ? "verse " + pass.label : pass.label;
}

std::string plan_text(const CheckedPlan& plan, const TerminalStyle& style) {
  TextWriter text(style);
  const std::string title = plan.title.empty() ? "Untitled hymn" : plan.title;
  const advise::CheckContext& context = *plan.context;
  text.heading(clean_text(title) + ": can it be done?");
  if (context.console == nullptr) {
    text.line(
        "No organ is named, so that only the tune could be looked at. A plan names one with "
        "organ = \"...\".");
  } else {
    std::string where = clean_text(context.console->organ->name);
    if (!plan.church.empty() && plan.church != context.console->organ->name)
      where += ", in " + clean_text(plan.church);
    if (context.people > 0) where += fmt::format(", {} people", context.people);
    text.line(where + ".");
    write_drawn(text, plan);
    write_joins(text, plan);
    text.note(
        "Times are those of the tables of work study for a steady pace, from the eye's leaving the "
        "music to the hand's return; a fifth more is asked for.");
  }
  write_findings(text, plan);
  return text.done();
}

std::string assumed_text(const std::vector<std::string>& sentences, const TerminalStyle& style) {
  if (sentences.empty()) return {};
  TextWriter text(style);
  text.heading("What is assumed of this organ");
  for (const std::string& sentence : sentences) text.item("  ", clean_text(sentence));
  text.note("An organ file says all of it as it is: see README, \"Hear it\".");
  return "\n" + text.done();
}

std::string service_heading(const plan::Service& service, const TerminalStyle& style) {
  TextWriter text(style);
  text.heading(
      clean_text(service.date.empty() ? service.title : service.title + ", " + service.date));
  return text.done();
}

std::string between_hymns_words(const advise::ConsoleMap& console, const advise::HandWork& work) {
  std::string moves;
  for (const advise::Movement& movement : work.movements)
    moves += (moves.empty() ? "" : "; ") + advise::describe(*console.organ, movement);
  for (const organ::ConsoleMove& pedal : work.swells)
    moves += (moves.empty() ? "" : "; ") + advise::describe(*console.organ, pedal);
  return moves.empty() ? "nothing moves" : moves;
}

std::string between_hymns_text(const advise::ConsoleMap& console, const advise::HandWork& work,
                               const TerminalStyle& style) {
  TextWriter text(style);
  text.line("");
  text.line(clean_text("Before the next hymn: " + between_hymns_words(console, work) + "."));
  return text.done();
}

}  // namespace loftbeat::report
