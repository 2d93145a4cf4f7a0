#include "report/suggestion_text.h"

#include <fmt/format.h>

#include "advise/plan_sentences.h"
#include "advise/suggestion_words.h"
#include "plan/registration.h"
#include "report/measure_tables.h"
#include "report/plan_text.h"
#include "report/report.h"
#include "report/text_writer.h"

namespace loftbeat::report {
namespace {

std::string wish_words(const advise::CheckContext& context, const plan::RoutePass& pass) {
  const std::optional<plan::Wish> wish = plan::wish_of(*context.plan, pass);
  if (!wish) {
    const bool stated = plan::registration_of(*context.plan, pass).stops.has_value();
    return stated ? ", wished as the plan has it" : "";
  }
  switch (wish->kind) {
    case plan::WishKind::quiet: return ", wished quiet";
    case plan::WishKind::plain: return ", wished plain";
    case plan::WishKind::bright: return ", wished bright";
    case plan::WishKind::full: return ", wished full";
    case plan::WishKind::figures: break;
  }
  return ", wished by figures";
}

std::string sound_words(const advise::MeasuredRegistration& measured, bool sung) {
  if (measured.silent) return "silent";
  const advise::Heard& heard = measured.heard;
  std::string words =
      fmt::format("{:.0f} sone, {:.2f} acum", heard.sone, heard.sharpness_acum.value_or(0));
  if (sung) words += fmt::format(", lead {:.1f} sone", heard.over.lead_sone);
  return words;
}

void write_passes(TextWriter& text, const SuggestedPlan& plan, const advise::Suggestion& one) {
  const auto& passes = plan.context->route->passes;
  const organ::Organ& organ = *plan.context->console->organ;
  for (std::size_t i = 0; i < passes.size(); ++i) {
    if (passes[i].unaccompanied) continue;
    const bool same = i > 0 && one.drawn[i] == one.drawn[i - 1];
    const bool verse = passes[i].kind == plan::PassKind::verse;
    text.item("  ",
              clean_text(fmt::format("{}{} ({}{})", pass_label(passes[i]),
                                     same ? ": the same" : ": " + drawn_words(organ, one.drawn[i]),
                                     sound_words(one.measured[i], verse),
                                     wish_words(*plan.context, passes[i]))));
  }
}

void write_moves(TextWriter& text, const SuggestedPlan& plan, const advise::Suggestion& one) {
  const auto& passes = plan.context->route->passes;
  for (const advise::JoinWork& join : one.check.joins) {
    if (join.work.movements.empty() && join.prepared.empty()) continue;
    const plan::RoutePass& next = passes[static_cast<std::size_t>(join.join) + 1];
    text.item("  ", clean_text(fmt::format("before {}: {}", pass_label(next),
                                           advise::describe(*plan.context, join))));
  }
  if (one.joins_with_moves == 0) text.line("  Nothing moves.");
}

std::string where_words(const SuggestedPlan& plan) {
  std::string where = plan.context->console->organ->name;
  if (plan.church != where) where += ", in " + plan.church;
  return fmt::format("{}, {} people. {} registrations were looked at.", where, plan.context->people,
                     plan.suggestions->candidates);
}

}  // namespace

std::string suggestion_text(const SuggestedPlan& plan, const TerminalStyle& style) {
  TextWriter text(style);
  const advise::Suggestions& suggestions = *plan.suggestions;
  text.heading(clean_text(plan.title.empty() ? "Untitled hymn" : plan.title) + ": what to draw");
  text.line(clean_text(where_words(plan)));
  if (suggestions.plans.empty())
    text.line(clean_text(advise::why_none(*plan.context, suggestions)));
  for (std::size_t i = 0; i < suggestions.plans.size(); ++i) {
    const advise::Suggestion& one = suggestions.plans[i];
    text.heading(fmt::format("{}. {}", i + 1, advise::name_of(one.leaning)));
    write_passes(text, plan, one);
    write_moves(text, plan, one);
    const advise::Suggestion* first = i == 0 ? nullptr : &suggestions.plans.front();
    for (const std::string& words : advise::what_it_gives_up(*plan.context, one, first))
      text.item("  - ", clean_text(words));
  }
  text.gap();
  text.note(
      "Each plan is the best for its weights among the registrations looked at, and stands the "
      "check of loftbeat plan. What an organ can do in a pass, from softest to loudest and from "
      "dullest to brightest, is the measure of the words quiet, plain, bright and full.");
  return text.done();
}

}  // namespace loftbeat::report
