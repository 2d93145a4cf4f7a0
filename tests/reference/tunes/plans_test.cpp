// The plans of the demo parish laid over their scores; beats counted by hand from the bars as
// written (counting by the bar: common practice, no source).

#include "parish.h"
#include "plan/read.h"
#include "plan/route.h"

namespace loftbeat {
namespace {

struct Laid {
  music::Score score;
  plan::Plan plan;
  plan::Route route;
};

Laid laid(const std::string& name) {
  Laid all{parish_score(name), {}, {}};
  const auto plan = plan::read_plan(parish_file(name + ".plan.toml"));
  if (!plan) {
    ADD_FAILURE() << to_string(plan.error());
    return all;
  }
  all.plan = *plan;
  EXPECT_EQ(all.plan.score_path, parish_file(name + ".musicxml"));
  auto route = plan::make_route(all.plan, all.score);
  if (!route) {
    ADD_FAILURE() << to_string(route.error());
    return all;
  }
  all.route = std::move(route).value();
  return all;
}

double span_after(const Laid& laid, std::size_t pass) {
  return laid.route.joins.at(pass).span_beats.value_or(-1);
}

// The figures are those that the plans' own comments give, counted by hand.
TEST(ParishPlans, evening) {
  const Laid hymn = laid("evening");
  ASSERT_EQ(hymn.route.passes.size(), 4U);
  EXPECT_EQ(hymn.route.passes[0].spans.size(), 2U);
  for (std::size_t i = 0; i < 3; ++i) EXPECT_EQ(span_after(hymn, i), 6);
  EXPECT_EQ(hymn.route.passes[3].broaden_from, 42 * kTicksPerQuarter);
}

TEST(ParishPlans, old_hundredth) {
  const Laid hymn = laid("old-hundredth");
  ASSERT_EQ(hymn.route.passes.size(), 5U);
  for (std::size_t i = 0; i < 4; ++i) EXPECT_EQ(span_after(hymn, i), 3);
  EXPECT_EQ(hymn.route.passes[2].textures, std::vector{plan::Texture::no_pedal});
}

TEST(ParishPlans, azmon) {
  const Laid hymn = laid("azmon");
  ASSERT_EQ(hymn.route.passes.size(), 5U);
  // The first line ends with a crotchet on 2, the upbeat is 3: one beat, and a bar more.
  EXPECT_EQ(span_after(hymn, 0), 4);
  EXPECT_EQ(span_after(hymn, 1), 5);
  EXPECT_TRUE(hymn.route.passes[3].unaccompanied);
  EXPECT_EQ(hymn.route.passes[4].spans.size(), 2U);
  EXPECT_EQ(hymn.route.passes[4].transpose_semitones, 1);
  // The plan's phrases are those that the score shows.
  EXPECT_EQ(hymn.route.phrases, hymn.score.phrases);
}

TEST(ParishPlans, verses_with_words_do_not_exceed_the_plan) {
  EXPECT_EQ(laid("evening").score.lyric_verses, 3);
  EXPECT_EQ(laid("old-hundredth").score.lyric_verses, 4);
  EXPECT_EQ(laid("azmon").score.lyric_verses, 3);
}

}  // namespace
}  // namespace loftbeat
