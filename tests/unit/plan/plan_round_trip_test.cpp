#include <gtest/gtest.h>

#include <random>

#include "plan/read.h"

namespace loftbeat::plan {
namespace {

// Random plans within the ranges of the schema.
class PlanMaker {
 public:
  explicit PlanMaker(unsigned seed) : random_(seed) {}

  Plan make() {
    Plan plan;
    plan.file = one_of<std::string>({"", "x.plan.toml", "p/q/x.plan.toml", "/p/x.plan.toml"});
    plan.score_path = plan.file == "/p/x.plan.toml"
                          ? one_of<std::string>({"/p/a.mxl", "/q/b.mid", "/p/q/ü \"a\".musicxml"})
                          : one_of<std::string>({"p/q/a.mxl", "a.mid", "p/b.mxl", "/t/c.mxl"});
    plan.title = one_of<std::string>({"", "Evening", "say \"x\"\n\\ \t", "Grüße 𝄞"});
    plan.tempo_bpm = chance() ? 0 : real(20, 300);
    plan.beat = static_cast<BeatUnit>(below(5));
    if (chance()) plan.verses = 1 + below(200);
    plan.play_over.kind = static_cast<PlayOverKind>(below(5));
    if (plan.play_over.kind == PlayOverKind::phrases) plan.play_over.phrases = numbers(1);
    plan.textures = textures(1);
    plan.join = maybe_join();
    plan.join_after_play_over = maybe_join();
    plan.fermata = rule();
    for (int i = below(3); i > 0; --i) plan.fermatas.emplace_back(place(), rule());
    for (int i = below(4); i > 0; --i) plan.phrase_starts.push_back(place());
    plan.refrain_phrases = numbers(0);
    for (int i = below(4); i > 0; --i) plan.verse_plans[1 + below(200)] = verse();
    plan.play_over_plan = pass();
    for (int i = below(3); i > 0; --i) {
      plan.interludes.push_back({1 + below(200), chance() ? 0 : real(0, 512)});
    }
    plan.amen = chance();
    if (chance()) plan.organ_path = plan.score_path + ".organ.toml";
    if (chance()) plan.church_path = plan.score_path + ".church.toml";
    if (chance()) plan.people = below(10001);
    plan.registration = registration();
    plan.wish = maybe_wish();
    plan.moves_at = maybe_moves().value_or(MovesAt{});
    plan.helper = chance();
    if (chance()) plan.hold_stops = {"Pedal Bourdon 16", "say \"x\""};
    if (chance()) plan.not_stops = {"Great Trumpet 8"};
    if (chance()) plan.breath_seconds = real(2, 60);
    plan.tolerances = {real(0, 2000), real(0, 100), real(0, 100),  real(0, 100),
                       real(0, 100),  real(0, 16),  real(0, 1000), real(0, 1000)};
    return plan;
  }

 private:
  int below(int n) { return static_cast<int>(random_() % static_cast<unsigned>(n)); }
  bool chance() { return below(2) == 0; }
  double real(double from, double to) {
    return std::uniform_real_distribution<double>(from, to)(random_);
  }
  template <typename T>
  T one_of(const std::vector<T>& values) {
    return values[static_cast<std::size_t>(below(static_cast<int>(values.size())))];
  }
  std::vector<int> numbers(int least) {
    std::vector<int> values;
    for (int i = least + below(4); i > 0; --i) values.push_back(1 + below(1000));
    return values;
  }
  std::vector<Texture> textures(int least) {
    if (chance()) return least == 0 ? std::vector<Texture>{} : std::vector{Texture::as_written};
    std::vector<Texture> values;
    for (int i = 1 + below(3); i > 0; --i) values.push_back(static_cast<Texture>(1 + below(5)));
    return values;
  }
  std::optional<Join> maybe_join() {
    switch (below(3)) {
      case 0: return std::nullopt;
      case 1: return Join{JoinKind::hold_and_lift, real(0, 64), real(0, 64), 0};
      default: return Join{JoinKind::by_the_bar, 0, 0, below(17)};
    }
  }
  std::optional<Wish> maybe_wish() {
    const int kind = below(7);
    if (kind < 4) return Wish{static_cast<WishKind>(kind), {}, {}};
    if (kind == 4) return Wish{WishKind::figures, real(0, 1000), {}};
    if (kind == 5) return Wish{WishKind::figures, {}, real(0, 20)};
    return std::nullopt;
  }
  std::optional<MovesAt> maybe_moves() {
    switch (below(4)) {
      case 0: return std::nullopt;
      case 1: return MovesAt{MovesAtKind::phrase_end, 1 + below(1000)};
      case 2: return MovesAt{MovesAtKind::silent, 0};
      default: return MovesAt{};
    }
  }
  FermataRule rule() {
    const auto kind = static_cast<FermataKind>(below(3));
    return {kind, kind == FermataKind::hold ? real(0, 64) : 0};
  }
  Place place() {
    return {one_of<std::string>({"1", "12", "X1", "4:3", "a \"b\"", "7a"}),
            chance() ? 1 : real(1, 64), 0};
  }
  std::optional<std::vector<std::string>> names() {
    if (chance()) return std::nullopt;
    std::vector<std::string> names;
    for (int i = below(4); i > 0; --i) {
      names.push_back(
          one_of<std::string>({"Great Open Diapason 8", "a \"b\"", "Flöte 8′", "x = 1"}));
    }
    return names;
  }
  RegistrationPlan registration() {
    RegistrationPlan drawn;
    drawn.stops = names();
    drawn.couplers = names();
    drawn.tremulants = names();
    switch (below(3)) {
      case 0: drawn.swell = real(0, 1); break;
      case 1:
        drawn.swell_of.emplace();
        for (int i = below(3); i > 0; --i) {
          (*drawn.swell_of)[one_of<std::string>({"Swell", "a.b \"c\"", "Récit"})] = real(0, 1);
        }
        break;
      default: break;
    }
    if (chance()) drawn.crescendo = below(61);
    return drawn;
  }
  PassPlan pass() {
    PassPlan pass;
    pass.textures = textures(0);
    pass.transpose_semitones = below(25) - 12;
    if (chance()) pass.broadening = Broadening{place(), real(50, 100)};
    pass.registration = registration();
    pass.wish = maybe_wish();
    return pass;
  }
  PassPlan verse() {
    PassPlan verse = pass();
    verse.unaccompanied = chance();
    verse.phrases = numbers(0);
    verse.join_after = maybe_join();
    verse.moves_at = maybe_moves();
    return verse;
  }

  std::mt19937 random_;
};

void expect_same(const Place& a, const Place& b) {
  EXPECT_EQ(a.bar, b.bar);
  EXPECT_EQ(a.beat, b.beat);
}

void expect_same(const RegistrationPlan& a, const RegistrationPlan& b) {
  EXPECT_EQ(a.stops, b.stops);
  EXPECT_EQ(a.couplers, b.couplers);
  EXPECT_EQ(a.tremulants, b.tremulants);
  EXPECT_EQ(a.swell, b.swell);
  EXPECT_EQ(a.swell_of, b.swell_of);
  EXPECT_EQ(a.crescendo, b.crescendo);
}

void expect_same(const PassPlan& a, const PassPlan& b) {
  expect_same(a.registration, b.registration);
  EXPECT_EQ(a.textures, b.textures);
  EXPECT_EQ(a.unaccompanied, b.unaccompanied);
  EXPECT_EQ(a.transpose_semitones, b.transpose_semitones);
  EXPECT_EQ(a.phrases, b.phrases);
  EXPECT_EQ(a.join_after, b.join_after);
  EXPECT_EQ(a.wish, b.wish);
  EXPECT_EQ(a.moves_at, b.moves_at);
  ASSERT_EQ(a.broadening.has_value(), b.broadening.has_value());
  if (!a.broadening) return;
  expect_same(a.broadening->from, b.broadening->from);
  EXPECT_EQ(a.broadening->percent, b.broadening->percent);
}

void expect_same(const Tolerances& a, const Tolerances& b) {
  EXPECT_EQ(a.join_ms, b.join_ms);
  EXPECT_EQ(a.join_percent, b.join_percent);
  EXPECT_EQ(a.tempo_percent, b.tempo_percent);
  EXPECT_EQ(a.trend_percent, b.trend_percent);
  EXPECT_EQ(a.steadiness_percent, b.steadiness_percent);
  EXPECT_EQ(a.hesitation_beats, b.hesitation_beats);
  EXPECT_EQ(a.pedal_lag_ms, b.pedal_lag_ms);
  EXPECT_EQ(a.smear_ms, b.smear_ms);
}

void expect_same_lists(const Plan& a, const Plan& b) {
  EXPECT_EQ(a.organ_path, b.organ_path);
  EXPECT_EQ(a.church_path, b.church_path);
  EXPECT_EQ(a.people, b.people);
  expect_same(a.registration, b.registration);
  ASSERT_EQ(a.fermatas.size(), b.fermatas.size());
  for (std::size_t i = 0; i < a.fermatas.size(); ++i) {
    expect_same(a.fermatas[i].first, b.fermatas[i].first);
    EXPECT_EQ(a.fermatas[i].second, b.fermatas[i].second);
  }
  ASSERT_EQ(a.phrase_starts.size(), b.phrase_starts.size());
  for (std::size_t i = 0; i < a.phrase_starts.size(); ++i) {
    expect_same(a.phrase_starts[i], b.phrase_starts[i]);
  }
  ASSERT_EQ(a.verse_plans.size(), b.verse_plans.size());
  for (const auto& [verse, pass] : a.verse_plans) {
    ASSERT_TRUE(b.verse_plans.contains(verse));
    expect_same(pass, b.verse_plans.at(verse));
  }
  ASSERT_EQ(a.interludes.size(), b.interludes.size());
  for (std::size_t i = 0; i < a.interludes.size(); ++i) {
    EXPECT_EQ(a.interludes[i].after_verse, b.interludes[i].after_verse);
    EXPECT_EQ(a.interludes[i].beats, b.interludes[i].beats);
  }
}

void expect_same(const Plan& a, const Plan& b) {
  EXPECT_EQ(a.title, b.title);
  EXPECT_EQ(a.score_path, b.score_path);
  EXPECT_EQ(a.file, b.file);
  EXPECT_EQ(a.tempo_bpm, b.tempo_bpm);
  EXPECT_EQ(a.beat, b.beat);
  EXPECT_EQ(a.verses, b.verses);
  EXPECT_EQ(a.play_over, b.play_over);
  EXPECT_EQ(a.textures, b.textures);
  EXPECT_EQ(a.join, b.join);
  EXPECT_EQ(a.join_after_play_over, b.join_after_play_over);
  EXPECT_EQ(a.fermata, b.fermata);
  EXPECT_EQ(a.refrain_phrases, b.refrain_phrases);
  EXPECT_EQ(a.amen, b.amen);
  EXPECT_EQ(a.wish, b.wish);
  EXPECT_EQ(a.moves_at, b.moves_at);
  EXPECT_EQ(a.helper, b.helper);
  EXPECT_EQ(a.hold_stops, b.hold_stops);
  EXPECT_EQ(a.not_stops, b.not_stops);
  EXPECT_EQ(a.breath_seconds, b.breath_seconds);
  expect_same(a.play_over_plan, b.play_over_plan);
  expect_same(a.tolerances, b.tolerances);
  expect_same_lists(a, b);
}

TEST(PlanRoundTrip, random_plans_come_back_to_the_last_bit) {
  for (unsigned seed = 0; seed < 500; ++seed) {
    const Plan plan = PlanMaker(seed).make();
    const std::string text = format_plan(plan);
    const auto back = parse_plan(text, plan.file);
    ASSERT_TRUE(back) << to_string(back.error()) << "\n" << text;
    expect_same(plan, *back);
    EXPECT_EQ(format_plan(*back), text);
    ASSERT_FALSE(testing::Test::HasFailure()) << "seed " << seed << "\n" << text;
  }
}

TEST(PlanRoundTrip, a_copy_elsewhere_still_finds_the_score) {
  Plan plan = *parse_plan("score = \"a.mxl\"\n", "parish/hymns/x.plan.toml");
  plan.file = "parish/practice/today/x.plan.toml";
  const auto copy = parse_plan(format_plan(plan), plan.file);
  ASSERT_TRUE(copy);
  EXPECT_EQ(copy->score_path, "parish/hymns/a.mxl");
}

}  // namespace
}  // namespace loftbeat::plan
