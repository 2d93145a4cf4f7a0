// Suggesting registrations on an organ of 40 stops for a play-over and seven verses: measuring what
// may be drawn (once), and the search; against measuring those candidates one by one, each by
// itself.

#include <cstdio>
#include <string>

#include "advise/advise.h"
#include "bench/cpu_time.h"
#include "music/read.h"
#include "pipes/read.h"
#include "room/read.h"

namespace {

using namespace loftbeat;
using bench::cpu_seconds;

const std::string kParish = std::string(LOFTBEAT_TREE) + "/sessions/quaverham/";
constexpr int kPeople = 150;

plan::Plan seven_verses() {
  plan::Plan plan;
  plan.tempo_bpm = 76;
  plan.verses = 7;
  plan.play_over.kind = plan::PlayOverKind::whole;
  plan.join = plan::Join{plan::JoinKind::hold_and_lift, 4, 2, 0};
  plan.wish = plan::Wish{};
  plan.verse_plans[2].wish = plan::Wish{plan::WishKind::quiet, {}, {}};
  plan.verse_plans[4].wish = plan::Wish{plan::WishKind::bright, {}, {}};
  plan.verse_plans[5].wish = plan::Wish{plan::WishKind::quiet, {}, {}};
  plan.verse_plans[7].wish = plan::Wish{plan::WishKind::full, {}, {}};
  return plan;
}

double seconds_of_measuring(const advise::SuggestionQuestion& question) {
  const auto family = advise::chorus_family(*question.place.organ, {});
  const double begin = cpu_seconds();
  double sum = 0;
  for (const organ::Registration& drawn : family)
    sum +=
        advise::measure_registration(question.place, drawn, question.context->sounds[1]).heard.sone;
  const double spent = cpu_seconds() - begin;
  return sum > 0 ? spent : 0;
}

}  // namespace

int main() {
  const auto organ = organ::read_organ(kParish + "minimsby.organ.toml");
  const auto church = room::read_church(kParish + "quaverham.church.toml");
  const auto recipes = pipes::read_recipes(std::string(LOFTBEAT_TREE) + "/soundfonts");
  const auto score = music::read_score(kParish + "evening.musicxml");
  if (!organ || !church || !recipes || !score) return 1;
  const plan::Plan plan = seven_verses();
  const auto route = plan::make_route(plan, score->score);
  const pipes::RankPowers ranks(*recipes);
  const auto powers = advise::StopPowers::make(*organ, *recipes, ranks);
  if (!route || !powers) return 1;
  const advise::Hall hall = advise::make_hall(*church, kPeople, kPeople);
  const advise::ConsoleMap console = advise::lay_out(*organ);
  const advise::CheckContext context =
      advise::make_check_context(plan, score->score, *route, &console, kPeople);
  advise::SuggestionQuestion question;
  question.context = &context;
  question.place = {&*organ, &*powers, &hall};
  question.stated.resize(route->passes.size());
  const double one_by_one = seconds_of_measuring(question);
  const double begin = cpu_seconds();
  const advise::RegistrationPlanner planner(question);
  const double warm = cpu_seconds();
  const advise::Suggestions suggestions = planner.suggest();
  const double end = cpu_seconds();
  std::printf(
      "suggesting, %zu stops, %zu candidates, %zu passes, %zu plans: warm-up %.0f ms (%.2f of "
      "measuring each candidate by itself in one pass), search %.0f ms (%.2f of it)\n",
      organ->stops.size(), suggestions.candidates, route->passes.size(), suggestions.plans.size(),
      1000 * (warm - begin), (warm - begin) / one_by_one, 1000 * (end - warm),
      (end - warm) / one_by_one);
}
