// What is chosen for practising is remembered and means what the command line's words mean.

#include <QTemporaryDir>

#include <gtest/gtest.h>

#include "window/keys/practice_choices.h"

namespace loftbeat::window {
namespace {

TEST(PracticeChoicesTest, AreRememberedWhole) {
  const QTemporaryDir scratch;
  QSettings settings(scratch.filePath("s.ini"), QSettings::IniFormat);
  PracticeChoices chosen;
  chosen.part = PracticeChoices::Part::join;
  chosen.join_verse = 3;
  chosen.click = PracticeChoices::Click::rests;
  chosen.ranks = PracticeChoices::Ranks::speak;
  chosen.volume_db = -11;
  chosen.singing = 80;
  chosen.reluctance_percent = 7;
  chosen.stops = PracticeChoices::Stops::plan;
  chosen.shown = PracticeChoices::Shown::place_and_drift;
  chosen.input = "great";
  chosen.signal = "control 64";
  write_choices(chosen, settings);
  const PracticeChoices read = read_choices(settings);
  EXPECT_EQ(read.part, chosen.part);
  EXPECT_EQ(read.join_verse, 3);
  EXPECT_EQ(read.click, chosen.click);
  EXPECT_EQ(read.ranks, chosen.ranks);
  EXPECT_EQ(read.volume_db, -11);
  EXPECT_EQ(read.singing, 80);
  EXPECT_EQ(read.reluctance_percent, 7);
  EXPECT_EQ(read.stops, chosen.stops);
  EXPECT_EQ(read.shown, chosen.shown);
  EXPECT_EQ(read.input, "great");
  EXPECT_EQ(read.signal, "control 64");
}

TEST(PracticeChoicesTest, NonsenseIsTheUsual) {
  const QTemporaryDir scratch;
  QSettings settings(scratch.filePath("s.ini"), QSettings::IniFormat);
  settings.setValue("keys/part", 77);
  settings.setValue("keys/volume", 400);
  settings.setValue("keys/singing", "many");
  const PracticeChoices read = read_choices(settings);
  EXPECT_EQ(read.part, PracticeChoices::Part::whole);
  EXPECT_EQ(read.volume_db, 0);
  EXPECT_EQ(read.singing, 0);
}

TEST(PracticeChoicesTest, BecomeTheOrderOfThePractice) {
  PracticeChoices chosen;
  chosen.part = PracticeChoices::Part::join;
  chosen.join_verse = 3;
  chosen.signal = "note 21";
  const app::ListenOrder order = order_of(chosen, "a.plan.toml", "kept", {"great", "swell"});
  EXPECT_EQ(order.only.what, app::Only::What::join);
  EXPECT_EQ(order.only.verse, 3);
  ASSERT_EQ(order.inputs.size(), 2U);
  EXPECT_EQ(order.inputs[1].name, "swell");
  ASSERT_TRUE(order.signal);
  EXPECT_EQ(order.signal->number, 21);
  EXPECT_EQ(order.ranks, app::ListenOrder::Ranks::silent);
  EXPECT_FALSE(order.click);  // counted in where it can be heard, else seen
  chosen.input = "swell";
  EXPECT_EQ(order_of(chosen, "", "", {"great", "swell"}).inputs.size(), 1U);
}

// Common practice, no source: what is heard in headphones begins quietly.
TEST(PracticeChoicesTest, BeginQuietly) { EXPECT_LE(PracticeChoices{}.volume_db, -20); }

}  // namespace
}  // namespace loftbeat::window
