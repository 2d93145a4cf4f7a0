#include "advise/suggestion_words.h"

#include "plan/registration.h"
#include "random_case.h"

namespace loftbeat::advise {
namespace {

TEST(SuggestionWords, NamesLeadBackToTheSameRegistration) {
  std::mt19937 random(8);
  for (int trial = 0; trial < 100; ++trial) {
    organ::Registration drawn = random_registration(parish().organ, random);
    for (std::size_t d = 0; d < drawn.swell.size(); ++d) {
      if (parish().organ.divisions[d].box)
        drawn.swell[d] = 0.25 * static_cast<double>(random() % 5);
    }
    const auto back = organ::resolve(parish().organ, named(parish().organ, drawn), "");
    ASSERT_TRUE(back.ok()) << to_string(back.error());
    EXPECT_EQ(*back, drawn);
  }
}

TEST(SuggestionWords, APlanWithThemDrawsThemInEveryPass) {
  std::mt19937 random(9);
  const pipes::RankPowers ranks(parish().recipes);
  int plans = 0;
  for (int trial = 0; trial < 20; ++trial) {
    const RandomCase at(random, 8, ranks);
    for (const Suggestion& one : suggest_registrations(at.question).plans) {
      ++plans;
      const plan::Plan filled = with_registrations(at.plan, at.route, at.organ, one.drawn);
      for (std::size_t pass = 0; pass < at.route.passes.size(); ++pass) {
        const auto back =
            organ::resolve(at.organ, plan::registration_of(filled, at.route.passes[pass]), "");
        ASSERT_TRUE(back.ok()) << to_string(back.error());
        EXPECT_EQ(*back, one.drawn[pass]);
      }
    }
  }
  EXPECT_GT(plans, 5);
}

TEST(SuggestionWords, SayWhatAPlanGivesUpAgainstAnother) {
  std::mt19937 random(10);
  const pipes::RankPowers ranks(parish().recipes);
  const RandomCase at(random, 8, ranks);
  Suggestion near;
  near.drawn.resize(4);
  near.measured.resize(4);
  near.wanted.resize(4);
  for (std::size_t pass = 0; pass < 4; ++pass) {
    near.wanted[pass].sone = 20;
    near.measured[pass].heard.sone = 20;
  }
  EXPECT_TRUE(what_it_gives_up(at.context, near).empty());
  Suggestion far = near;
  far.measured[2].heard.sone = 40;
  far.joins_with_moves = 2;
  const auto given_up = what_it_gives_up(at.context, far, &near);
  ASSERT_EQ(given_up.size(), 2u);
  EXPECT_EQ(given_up[0], "In verse 2 it is further off the wish: 40 sone for 20.");
  EXPECT_EQ(given_up[1], "Stops move at 2 joins instead of 0.");
  EXPECT_TRUE(what_it_gives_up(at.context, near, &far).empty());
  EXPECT_EQ(what_it_gives_up(at.context, far).size(), 1u);
}

}  // namespace
}  // namespace loftbeat::advise
