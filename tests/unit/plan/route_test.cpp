#include <gtest/gtest.h>

#include "plan/read.h"
#include "plan/route.h"
#include "tunes.h"

namespace loftbeat::plan {
namespace {

Route route_of(const std::string& rest, const music::Score& score) {
  const auto plan = parse_plan("score = \"a\"\n" + rest, "x.plan.toml");
  if (!plan) {
    ADD_FAILURE() << to_string(plan.error());
    return {};
  }
  auto route = make_route(*plan, score);
  if (!route) {
    ADD_FAILURE() << to_string(route.error());
    return {};
  }
  return std::move(route).value();
}

std::vector<std::string> labels(const Route& route) {
  std::vector<std::string> all;
  for (const RoutePass& pass : route.passes) all.push_back(pass.label);
  return all;
}

using Spans = std::vector<TickSpan>;

TEST(Route, play_over_and_verses_in_order) {
  const auto tune = common_metre_tune();
  const Route route = route_of("verses = 3\nplay-over = \"whole\"\n", tune);
  EXPECT_EQ(labels(route), (std::vector<std::string>{"play-over", "1", "2", "3"}));
  EXPECT_EQ(route.passes[0].kind, PassKind::play_over);
  EXPECT_EQ(route.passes[3].kind, PassKind::verse);
  for (const RoutePass& pass : route.passes) EXPECT_EQ(pass.spans, (Spans{{0, tune.length}}));
  EXPECT_EQ(route.joins.size(), 3U);
  EXPECT_TRUE(route.verses_known && route.play_over_known);
  EXPECT_EQ(route.phrases, tune.phrases);
}

TEST(Route, what_is_open_stays_open) {
  const auto tune = common_metre_tune();
  const Route nothing = route_of("", tune);
  EXPECT_TRUE(nothing.passes.empty() && nothing.joins.empty());
  EXPECT_FALSE(nothing.verses_known || nothing.play_over_known);
  const Route verses = route_of("play-over = \"none\"\nverses = 2\n", tune);
  EXPECT_EQ(labels(verses), (std::vector<std::string>{"1", "2"}));
  EXPECT_TRUE(verses.play_over_known);
  const Route play_over = route_of("play-over = \"whole\"\n", tune);
  EXPECT_EQ(labels(play_over), (std::vector<std::string>{"play-over"}));
  EXPECT_TRUE(play_over.joins.empty());
}

TEST(Route, play_over_by_phrases) {
  const auto tune = common_metre_tune();
  EXPECT_EQ(route_of("play-over = \"first-and-last\"\n", tune).passes[0].spans,
            (Spans{{0, 8 * kQ}, {24 * kQ, 32 * kQ}}));
  EXPECT_EQ(route_of("play-over = [1]\n", tune).passes[0].spans, (Spans{{0, 8 * kQ}}));
  // Neighbours become one stretch; the other way round they do not.
  EXPECT_EQ(route_of("play-over = [3, 4]\n", tune).passes[0].spans, (Spans{{16 * kQ, 32 * kQ}}));
  EXPECT_EQ(route_of("play-over = [4, 3]\n", tune).passes[0].spans,
            (Spans{{24 * kQ, 32 * kQ}, {16 * kQ, 24 * kQ}}));
}

TEST(Route, phrases_of_the_plan_replace_the_scores) {
  const auto tune = common_metre_tune();
  const Route route = route_of("phrase-starts = [\"4:4\"]\nplay-over = [2]\n", tune);
  ASSERT_EQ(route.phrases.size(), 2U);
  EXPECT_EQ(route.phrases[0].span, (TickSpan{0, 16 * kQ}));
  EXPECT_EQ(route.phrases[1].span, (TickSpan{16 * kQ, 32 * kQ}));
  EXPECT_EQ(route.passes[0].spans, (Spans{{16 * kQ, 32 * kQ}}));
}

TEST(Route, the_first_phrase_begins_with_the_tune_however_it_is_stated) {
  const auto tune = common_metre_tune();
  for (const char* starts : {"\"4:4\"", "\"0:4\", \"4:4\"", "\"1\", \"4:4\"", "\"4:4\", \"0:4\""}) {
    const Route route = route_of(std::string("phrase-starts = [") + starts + "]\n", tune);
    ASSERT_EQ(route.phrases.size(), 2U) << starts;
    EXPECT_EQ(route.phrases[0].span, (TickSpan{0, 16 * kQ})) << starts;
  }
}

TEST(Route, a_repeated_bar_begins_a_phrase_each_time) {
  const auto tune = TuneMaker({4, 4})
                        .bar(4 * kQ, "1", false)
                        .bar(4 * kQ, "2", false)
                        .bar(4 * kQ, "1", false)
                        .bar(4 * kQ, "2", false)
                        .crotchets(16)
                        .make();
  const Route route = route_of("phrase-starts = [\"2\"]\n", tune);
  ASSERT_EQ(route.phrases.size(), 3U);
  EXPECT_EQ(route.phrases[1].span, (TickSpan{4 * kQ, 12 * kQ}));
}

TEST(Route, beats_are_the_plans_own) {
  const auto tune = TuneMaker({2, 2}).full_bars(4).crotchets(16).make();
  const Route route = route_of("beat = \"half\"\nphrase-starts = [\"2:2\"]\n", tune);
  EXPECT_EQ(route.phrases[1].span.begin, 6 * kQ);
}

TEST(Route, textures_and_keys_of_verses) {
  const Route route = route_of(
      "verses = 3\nplay-over = \"whole\"\ntextures = [\"no-pedal\"]\n"
      "[play-over-pass]\ntranspose = -1\n"
      "[verse.2]\ntextures = [\"unison\", \"fuller\"]\n[verse.3]\ntranspose = 2\n",
      common_metre_tune());
  EXPECT_EQ(route.passes[0].transpose_semitones, -1);
  EXPECT_EQ(route.passes[0].textures, std::vector{Texture::no_pedal});
  EXPECT_EQ(route.passes[1].textures, std::vector{Texture::no_pedal});
  EXPECT_EQ(route.passes[2].textures, (std::vector{Texture::unison, Texture::fuller}));
  EXPECT_EQ(route.passes[3].transpose_semitones, 2);
}

TEST(Route, a_last_line_may_come_twice) {
  const Route route =
      route_of("verses = 1\nplay-over = \"none\"\n[verse.1]\nphrases = [1, 2, 3, 4, 4]\n",
               common_metre_tune());
  EXPECT_EQ(route.passes[0].spans, (Spans{{0, 32 * kQ}, {24 * kQ, 32 * kQ}}));
}

TEST(Route, a_refrain_belongs_to_every_verse) {
  const Route route = route_of(
      "verses = 3\nplay-over = \"none\"\nrefrain = [4]\n"
      "[verse.1]\nphrases = [1, 2]\n[verse.2]\nphrases = [3, 4]\n",
      common_metre_tune());
  EXPECT_EQ(route.passes[0].spans, (Spans{{0, 16 * kQ}, {24 * kQ, 32 * kQ}}));
  EXPECT_EQ(route.passes[1].spans, (Spans{{16 * kQ, 32 * kQ}}));  // not twice
  EXPECT_EQ(route.passes[2].spans, (Spans{{0, 32 * kQ}}));
}

TEST(Route, an_unaccompanied_verse_keeps_its_number) {
  const Route route = route_of(
      "verses = 3\nplay-over = \"none\"\njoin = \"2+1\"\n[verse.2]\nunaccompanied = true\n",
      common_metre_tune());
  EXPECT_EQ(labels(route), (std::vector<std::string>{"1", "2", "3"}));
  EXPECT_TRUE(route.passes[1].unaccompanied);
  EXPECT_FALSE(route.joins[0].span_beats || route.joins[1].span_beats);
}

TEST(Route, a_broadening_has_its_place) {
  const Route route = route_of(
      "verses = 2\nplay-over = \"none\"\n[verse.2]\nbroaden = { from = \"7:3\", percent = 80 }\n",
      common_metre_tune());
  EXPECT_FALSE(route.passes[0].broaden_from);
  EXPECT_EQ(route.passes[1].broaden_from, kQ + 6 * 4 * kQ + 2 * kQ);
  EXPECT_EQ(route.passes[1].broaden_percent, 80);
}

TEST(Route, interludes_and_the_amen_are_passes_without_notes) {
  const Route route = route_of(
      "verses = 2\nplay-over = \"none\"\namen = true\n[[interlude]]\nafter-verse = 1\nbeats = 8\n",
      common_metre_tune());
  EXPECT_EQ(labels(route), (std::vector<std::string>{"1", "interlude", "2", "amen"}));
  EXPECT_EQ(route.passes[1].kind, PassKind::interlude);
  EXPECT_TRUE(route.passes[1].spans.empty());
  EXPECT_EQ(route.passes[3].kind, PassKind::amen);
  EXPECT_TRUE(route.passes[3].spans.empty());
}

TEST(Route, fermatas_become_holds_by_rule_and_by_place) {
  auto tune = TuneMaker({4, 4})
                  .full_bars(4)
                  .crotchets(3)
                  .notes({kQ})
                  .crotchets(2)
                  .notes({2 * kQ})
                  .crotchets(4)
                  .notes({4 * kQ})
                  .fermata(3 * kQ)
                  .fermata(6 * kQ)
                  .fermata(12 * kQ)
                  .make();
  EXPECT_TRUE(route_of("", tune).holds.empty());
  const Route held = route_of("fermata = \"hold 2\"\n", tune);
  ASSERT_EQ(held.holds.size(), 2U);  // the last chord is the join's matter
  EXPECT_EQ(held.holds[0].at, 3 * kQ);
  EXPECT_EQ(held.holds[0].until, 4 * kQ);
  EXPECT_EQ(held.holds[0].extra_beats, 2);
  EXPECT_EQ(held.holds[1].until, 8 * kQ);
  const Route mixed = route_of(
      "fermata = \"hold 2\"\n[[fermata-at]]\nplace = \"1:4\"\nrule = \"sign-only\"\n"
      "[[fermata-at]]\nplace = \"3:2\"\nrule = \"free\"\n",
      tune);
  ASSERT_EQ(mixed.holds.size(), 2U);
  EXPECT_EQ(mixed.holds[0].at, 6 * kQ);
  EXPECT_EQ(mixed.holds[1].at, 9 * kQ);
  EXPECT_EQ(mixed.holds[1].kind, FermataKind::free);
}

}  // namespace
}  // namespace loftbeat::plan
