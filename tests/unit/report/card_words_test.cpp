// What a card says, on the invented console.

#include "report/card_words.h"

#include <algorithm>

#include "../advise_check/small_plan.h"

namespace loftbeat::report {
namespace {

using advise::SmallPlan;

struct OneCard {
  explicit OneCard(SmallPlan& small) : context(small.context()) {
    check = advise::check_plan(context, small.drawn, {});
    CardHymn hymn;
    hymn.number = "12";
    hymn.plan.title = "A tune of ours";
    hymn.plan.context = &context;
    hymn.plan.check = &check;
    hymn.plan.drawn = small.drawn;
    hymn.steps = advise::desk_steps(context, check, small.drawn);
    card = card_of(hymn);
  }
  [[nodiscard]] const CardBlock& block(const std::string& label) const {
    const auto found = std::find_if(card.blocks.begin(), card.blocks.end(),
                                    [&](const CardBlock& one) { return one.label == label; });
    EXPECT_NE(found, card.blocks.end()) << label;
    return *found;
  }
  [[nodiscard]] std::string words(const std::string& label) const {
    std::string all;
    for (const CardLine& line : block(label).lines) all += line.words + "\n";
    return all;
  }

  advise::CheckContext context;
  advise::PlanCheck check;
  Card card;
};

TEST(CardWords, SayOneThingForEachPassInLargeType) {
  SmallPlan small;
  const OneCard one(small);
  EXPECT_EQ(one.card.title, "12  A tune of ours");
  EXPECT_EQ(one.card.blocks.front().lines.front().words, "76 a minute · hold 4, lift 2");
  for (const char* label : {"play over", "1", "2", "3"}) {
    const auto& lines = one.block(label).lines;
    EXPECT_LE(std::count_if(lines.begin(), lines.end(),
                            [](const CardLine& line) { return line.size_mm == kReadingSizeMm; }),
              1)
        << label;
  }
  // The box opens before verse 1; a stop is drawn before verse 2; verse 3 is as verse 2.
  EXPECT_NE(one.words("1").find("FOOT: "), std::string::npos) << one.words("1");
  EXPECT_NE(one.words("2").find("draw Great Fifteenth 2"), std::string::npos) << one.words("2");
  EXPECT_NE(one.words("2").find("last line: look "), std::string::npos) << one.words("2");
  EXPECT_EQ(one.words("3"), "nothing moves\n");
  EXPECT_EQ(lay_out_card(one.card).size(), 1u);
}

TEST(CardWords, LookWhereTheFirstControlOfTheWayIs) {
  SmallPlan small;
  const OneCard one(small);
  const advise::Spot& spot = one.context.console->stops[3];  // the Fifteenth
  EXPECT_NE(one.words("2").find("look " + spot_words(spot)), std::string::npos) << one.words("2");
}

TEST(CardWords, TellTextureAndJoinsThatDiffer) {
  SmallPlan small;
  small.plan.verse_plans[2].textures = {plan::Texture::unison};
  small.plan.verse_plans[2].join_after = plan::Join{plan::JoinKind::by_the_bar, 0, 0, 1};
  small.plan.verse_plans[3].unaccompanied = true;
  const OneCard one(small);
  EXPECT_NE(one.words("2").find("unison"), std::string::npos) << one.words("2");
  EXPECT_NE(one.words("3").find("unaccompanied"), std::string::npos) << one.words("3");
  EXPECT_EQ(one.words("1").find("unison"), std::string::npos);
}

TEST(CardWords, SevenVersesWithAMoveEachStandOnOnePage) {
  SmallPlan small;
  small.plan.verses = 7;
  small.drawn.assign(8, small.drawn[1]);
  for (std::size_t pass = 2; pass < 8; pass += 2) small.drawn[pass] = small.drawn[pass - 1];
  for (std::size_t pass = 1; pass < 8; ++pass) {
    auto& stops = small.drawn[pass].stops;
    stops =
        pass % 2 == 1 ? std::vector<std::size_t>{0, 2, 7} : std::vector<std::size_t>{0, 2, 3, 7};
  }
  const OneCard one(small);
  EXPECT_EQ(lay_out_card(one.card).size(), 1u);
  for (int verse = 2; verse <= 7; ++verse)
    EXPECT_NE(one.words(std::to_string(verse)).find("Fifteenth"), std::string::npos);
}

TEST(CardWords, EndWithWhatToDoIfItGoesWrong) {
  SmallPlan small;
  const OneCard moving(small);
  EXPECT_NE(moving.card.blocks.back().lines.front().words.find("keep the beat"), std::string::npos);
  EXPECT_EQ(moving.card.blocks.back().lines.front().words.find("piston"), std::string::npos);
}

}  // namespace
}  // namespace loftbeat::report
