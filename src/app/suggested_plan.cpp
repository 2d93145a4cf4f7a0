#include "app/suggested_plan.h"

#include <algorithm>
#include <utility>

#include <fmt/format.h>

#include "app/endings.h"
#include "plan/registration.h"

namespace loftbeat::app {
namespace {

// Stops by their names in the plan. Errors name the plan's line.
Result<std::vector<std::size_t>> stops_by_name(const CheckedFile& checked,
                                               const std::vector<std::string>& names, int line) {
  std::vector<std::size_t> stops;
  for (const std::string& name : names) {
    Result<std::size_t> stop = organ::find_stop(checked.data.organ, name);
    if (!stop) {
      Error error = stop.error();
      error.file = checked.planned.plan.file;
      error.line = line;
      return error;
    }
    stops.push_back(*stop);
  }
  return stops;
}

Status fill_constraints(const CheckedFile& checked, advise::SuggestionQuestion& question) {
  const plan::Plan& plan = checked.planned.plan;
  auto held = stops_by_name(checked, plan.hold_stops, plan.lines.hold_stops);
  if (!held) return held.error();
  auto barred = stops_by_name(checked, plan.not_stops, plan.lines.not_stops);
  if (!barred) return barred.error();
  for (const std::size_t stop : *held) {
    if (std::find(barred->begin(), barred->end(), stop) == barred->end()) continue;
    Error error =
        wrong_use(fmt::format("\"{}\" is to be held and is not to be drawn.",
                              organ::full_name(checked.data.organ, checked.data.organ.stops[stop])),
                  "Take it out of hold-stops or of not-stops.");
    error.kind = ErrorKind::no_fit;
    error.file = plan.file;
    error.line = plan.lines.not_stops;
    return error;
  }
  question.held = std::move(*held);
  question.barred = std::move(*barred);
  return {};
}

// What the plan itself states, pass by pass.
void fill_stated(const CheckedFile& checked, advise::SuggestionQuestion& question) {
  const PlannedSound& planned = checked.planned;
  for (std::size_t pass = 0; pass < planned.route.passes.size(); ++pass) {
    const auto names = plan::registration_of(planned.plan, planned.route.passes[pass]);
    question.stated.emplace_back();
    if (names.stops) question.stated.back() = planned.registrations[pass];
  }
}

}  // namespace

Status check_ground(const CheckedFile& checked) {
  if (checked.context->console == nullptr)
    return wrong_use("no organ is named, so that there is nothing to suggest stops from.",
                     "Name one in the plan, as organ = \"...\", or with --organ, or its stops with "
                     "--stop-list.");
  if (!checked.data.church)
    return wrong_use("no church is named, so that no stop can be measured.",
                     "Name one in the plan, as church = \"...\", or with --church.");
  if (checked.data.people < 1)
    return wrong_use("nobody is expected, so that there is no singing to lead.",
                     "Say people = N in the plan, or --people.");
  return {};
}

Result<advise::Suggestions> suggestions_for(const CheckedFile& checked) {
  advise::SuggestionQuestion question;
  question.context = &*checked.context;
  if (const Status status = fill_constraints(checked, question); !status) return status.error();
  fill_stated(checked, question);
  const pipes::RankPowers ranks(checked.data.recipes);
  const auto powers = advise::StopPowers::make(checked.data.organ, checked.data.recipes, ranks);
  if (!powers) return powers.error();
  const advise::Hall hall =
      advise::make_hall(*checked.data.church, checked.data.people, checked.data.people);
  question.place = {&checked.data.organ, &*powers, &hall};
  return advise::suggest_registrations(question);
}

}  // namespace loftbeat::app
