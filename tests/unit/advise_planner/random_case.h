#pragma once

// Random small organs out of the demo parish's stops, with a random plan, for the planner.

#include <algorithm>
#include <cstdlib>
#include <random>
#include <utility>
#include <vector>

#include "../advise/parish.h"
#include "../advise_hands/consoles.h"
#include "advise/advise.h"
#include "simulate/invented_hymn.h"

namespace loftbeat::advise {

inline int cases(int whole) {
  return std::getenv("LOFTBEAT_QUICK") != nullptr ? whole / 10 : whole;
}

// Owns all that a question points to.
struct RandomCase {
  organ::Organ organ;
  ConsoleMap console;
  StopPowers powers;
  Hall hall;
  plan::Plan plan;
  music::Score score = chorale();
  plan::Route route;
  CheckContext context;
  SuggestionQuestion question;

  RandomCase(std::mt19937& random, std::size_t most_stops, const pipes::RankPowers& ranks) {
    const auto upto = [&](unsigned most) { return static_cast<int>(random() % (most + 1)); };
    draw_organ(random, most_stops);
    console = lay_out(organ);
    const auto made = StopPowers::make(organ, parish().recipes, ranks);
    EXPECT_TRUE(made.ok());
    powers = *made;
    const int people = std::vector<int>{12, 25, 60, 120, 250}[static_cast<std::size_t>(upto(4))];
    hall = make_hall(parish().church, people, people);
    plan.tempo_bpm = 60 + upto(50);
    plan.join = plan::Join{plan::JoinKind::hold_and_lift, 1.0 + upto(4), 1.0 + upto(2), 0};
    plan.play_over.kind = upto(1) == 0 ? plan::PlayOverKind::whole : plan::PlayOverKind::phrases;
    if (plan.play_over.kind == plan::PlayOverKind::phrases) plan.play_over.phrases = {1};
    plan.verses = 3;
    plan.helper = upto(7) == 0;
    if (upto(2) == 0) plan.moves_at = {plan::MovesAtKind::silent, 0};
    for (int verse = 1; verse <= 3; ++verse) wish_for(plan.verse_plans[verse], random);
    const auto laid = plan::make_route(plan, score);
    EXPECT_TRUE(laid.ok()) << to_string(laid.error());
    route = *laid;
    context = make_check_context(plan, score, route, &console, people);
    question.context = &context;
    question.place = {&organ, &powers, &hall};
    question.stated.resize(route.passes.size());
    if (upto(3) == 0) question.held = {static_cast<std::size_t>(upto(1)) % organ.stops.size()};
    if (upto(3) == 0) question.barred = {organ.stops.size() - 1};
    std::erase_if(question.held, [&](std::size_t stop) {
      return std::count(question.barred.begin(), question.barred.end(), stop) > 0;
    });
  }
  // The same plan and people before another organ: a random stop list.
  void retype(std::mt19937& random, const pipes::RankPowers& ranks) {
    const std::vector<std::vector<std::string>> lines = {
        {"Open Diapason 8", "Stopped Diapason 8", "Principal 4", "Nason Flute 4", "Twelfth 2 2/3",
         "Fifteenth 2", "Mixture IV", "Viola 16", "Trumpet 8"},
        {"Gedackt 8", "Salicional 8", "Gemshorn 4", "Piccolo 1", "Larigot 1 1/3", "Oboe 8"},
        {"Bourdon 16", "Octave 8", "Trombone 32"}};
    std::string list;
    for (std::size_t d = 0; d < lines.size(); ++d) {
      list += std::vector<std::string>{"Great: ", "; Swell: ", "; Pedal: "}[d] + lines[d][0];
      for (std::size_t s = 1; s < lines[d].size(); ++s) {
        if (random() % 2 == 0) list += ", " + lines[d][s];
      }
    }
    if (random() % 2 == 0) list += "; Couplers: Swell to Great, Great to Pedal";
    const auto listed = organ::parse_stop_list(list);
    ASSERT_TRUE(listed.ok()) << to_string(listed.error());
    organ = listed->organ;
    static_cast<void>(borrow_ranks(organ, parish().recipes));
    console = lay_out(organ);
    const auto made = StopPowers::make(organ, parish().recipes, ranks);
    ASSERT_TRUE(made.ok()) << to_string(made.error());
    powers = *made;
    question.held.clear();
    question.barred.clear();
  }
  // Another hymn: metre, upbeat and lines by chance, the plan as it was.
  void sing_another(std::uint64_t seed) {
    score = simulate::invented_hymn(simulate::invented_shape(seed), seed);
    const auto laid = plan::make_route(plan, score);
    ASSERT_TRUE(laid.ok()) << to_string(laid.error());
    route = *laid;
    context = make_check_context(plan, score, route, &console, context.people);
    question.stated.resize(route.passes.size());
  }
  RandomCase(const RandomCase&) = delete;
  RandomCase& operator=(const RandomCase&) = delete;

 private:
  void draw_organ(std::mt19937& random, std::size_t most_stops) {
    organ = parish().organ;
    std::vector<organ::Stop> stops = organ.stops;
    std::shuffle(stops.begin() + 1, stops.end(), random);  // the first, an 8', is always there
    stops.resize(std::min(stops.size(), 1 + random() % most_stops));
    organ.stops = stops;
    organ.tremulants.clear();
    organ.pistons.clear();
    std::shuffle(organ.couplers.begin(), organ.couplers.end(), random);
    organ.couplers.resize(std::min<std::size_t>(organ.couplers.size(), random() % 2));
    if (random() % 3 == 0) {
      organ::Piston piston;
      piston.name = "1";
      for (std::size_t s = 0; s < stops.size(); ++s) {
        if (random() % 2 == 0) piston.stops.push_back(s);
      }
      organ.pistons.push_back(piston);
    }
    if (random() % 4 == 0) organ.stops.back().location = {};
  }

  static void wish_for(plan::PassPlan& pass, std::mt19937& random) {
    using plan::WishKind;
    const std::vector<WishKind> kinds = {WishKind::quiet, WishKind::plain, WishKind::bright,
                                         WishKind::full, WishKind::figures};
    plan::Wish wish{kinds[random() % 5], std::nullopt, std::nullopt};
    if (wish.kind == WishKind::figures) {
      wish.lead_sone = 1.0 + static_cast<double>(random() % 40);
      wish.sharpness_acum = 0.8 + 0.1 * static_cast<double>(random() % 15);
    }
    if (random() % 5 > 0) pass.wish = wish;
    if (random() % 6 == 0) pass.textures = {plan::Texture::unison};
  }
};

}  // namespace loftbeat::advise
