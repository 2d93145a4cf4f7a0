#include "advise/suggestion_words.h"

#include <cstdlib>

#include <fmt/format.h>

#include "advise/plan_sentences.h"

namespace loftbeat::advise {
namespace {

constexpr double kFarOff = 0.25;
constexpr double kFurther = 0.05;

std::string pass_words(const CheckContext& context, std::size_t pass) {
  PlanFinding finding;
  finding.pass = static_cast<int>(pass);
  return place_of(context, finding);
}

// "24 sone where about 40 are wished, 1.1 acum where 1.4 are"
std::string figures(const Wanted& wanted, const Heard& heard) {
  std::vector<std::string> parts;
  if (wanted.sone) parts.push_back(fmt::format("{:.0f} sone for {:.0f}", heard.sone, *wanted.sone));
  if (wanted.lead_sone)
    parts.push_back(
        fmt::format("a lead of {:.1f} sone for {:.1f}", heard.over.lead_sone, *wanted.lead_sone));
  if (wanted.acum)
    parts.push_back(
        fmt::format("{:.2f} acum for {:.2f}", heard.sharpness_acum.value_or(0), *wanted.acum));
  return fmt::format("{}", fmt::join(parts, ", "));
}

std::string capital(std::string words) {
  if (!words.empty() && words[0] >= 'a' && words[0] <= 'z')
    words[0] = static_cast<char>(words[0] - 'a' + 'A');
  return words;
}

}  // namespace

Error unreachable_error(const CheckContext& context, const UnreachableWish& wish) {
  const bool lead = wish.beyond.what == BeyondReach::What::lead;
  const auto figure = [&](double value) {
    return lead ? fmt::format("{:.3g}", value) : fmt::format("{:.2f}", value);
  };
  const std::string tolerance =
      lead ? fmt::format("{:.0f} %", 100 * (context.limits.heard_ratio - 1))
           : fmt::format("{:.1f} acum", context.limits.heard_acum);
  Error error;
  error.kind = ErrorKind::no_fit;
  error.file = context.plan->file;
  error.line = wish.line;
  error.message = fmt::format(
      "{}, {} of {:g} {} is wished; what may be drawn there for {} people reaches {} to {}.",
      capital(pass_words(context, wish.pass)), lead ? "a lead" : "a sharpness", wish.beyond.wished,
      lead ? "sone" : "acum", context.people, figure(wish.beyond.least), figure(wish.beyond.most));
  error.hint = fmt::format(
      "Wish a figure in that range (up to {} beyond it is taken: less is not heard as a change), "
      "or a word such as \"{}\".",
      tolerance, wish.beyond.wished > wish.beyond.most ? "bright" : "quiet");
  return error;
}

std::string name_of(Leaning leaning) {
  if (leaning == Leaning::fewer_moves) return "with fewer moves";
  return leaning == Leaning::nearer_wishes ? "nearer to the wishes" : "evenly weighed";
}

std::vector<std::string> what_it_gives_up(const CheckContext& context, const Suggestion& suggestion,
                                          const Suggestion* against) {
  std::vector<std::string> sentences;
  for (std::size_t pass = 0; pass < suggestion.drawn.size(); ++pass) {
    const Wanted& wanted = suggestion.wanted[pass];
    const Heard& heard = suggestion.measured[pass].heard;
    const double off = distance(wanted, heard);
    const std::string where = capital(pass_words(context, pass));
    if (against == nullptr) {
      if (off > kFarOff)
        sentences.push_back(
            fmt::format("{} it stays off the wish: {}.", where, figures(wanted, heard)));
      continue;
    }
    if (off > distance(wanted, against->measured[pass].heard) + kFurther)
      sentences.push_back(
          fmt::format("{} it is further off the wish: {}.", where, figures(wanted, heard)));
  }
  if (against != nullptr && suggestion.joins_with_moves > against->joins_with_moves) {
    sentences.push_back(fmt::format("Stops move at {} joins instead of {}.",
                                    suggestion.joins_with_moves, against->joins_with_moves));
  }
  return sentences;
}

std::string why_none(const CheckContext& context, const Suggestions& suggestions) {
  if (suggestions.candidates == 0)
    return "No registration can be made of the stops that may be drawn: they hold no chorus built "
           "up from an 8'. Look at hold-stops and not-stops.";
  if (!suggestions.stuck_at)
    return "Each pass has registrations that suit it, but no way of one movement at each join "
           "leads "
           "through them. Longer joins, a helper or moves-at = \"silent\" make ways.";
  const std::string where = pass_words(context, *suggestions.stuck_at);
  if (suggestions.stuck_for == PlanFault::little_lead_for_many)
    return fmt::format("Nothing that may be drawn leads so many people {}.", where);
  if (suggestions.stuck_for == PlanFault::bright_for_few)
    return fmt::format("All that may be drawn is too bright for so few people {}.", where);
  return fmt::format("Nothing that may be drawn sounds {}.", where);
}

plan::RegistrationPlan named(const organ::Organ& organ, const organ::Registration& drawn) {
  plan::RegistrationPlan names;
  names.stops.emplace();
  names.couplers.emplace();
  for (const std::size_t stop : drawn.stops)
    names.stops->push_back(full_name(organ, organ.stops[stop]));
  for (const std::size_t coupler : drawn.couplers)
    names.couplers->push_back(organ.couplers[coupler].name);
  if (!organ.tremulants.empty()) names.tremulants.emplace();
  for (const std::size_t one : drawn.tremulants)
    names.tremulants->push_back(organ.tremulants[one].name);
  if (organ.crescendo) names.crescendo = drawn.crescendo;
  for (std::size_t d = 0; d < organ.divisions.size(); ++d) {
    if (!organ.divisions[d].box) continue;
    if (!names.swell_of) names.swell_of.emplace();
    (*names.swell_of)[organ.divisions[d].name] = drawn.swell[d];
  }
  return names;
}

plan::Plan with_registrations(plan::Plan plan, const plan::Route& route, const organ::Organ& organ,
                              const std::vector<organ::Registration>& drawn) {
  for (std::size_t pass = 0; pass < route.passes.size(); ++pass) {
    const plan::RoutePass& one = route.passes[pass];
    if (one.kind == plan::PassKind::play_over)
      plan.play_over_plan.registration = named(organ, drawn[pass]);
    if (one.kind == plan::PassKind::verse)
      plan.verse_plans[std::atoi(one.label.c_str())].registration = named(organ, drawn[pass]);
  }
  return plan;
}

}  // namespace loftbeat::advise
