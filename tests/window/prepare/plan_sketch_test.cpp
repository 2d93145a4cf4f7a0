// What is edited can be undone, and no crash takes it away.

#include <filesystem>

#include <QTemporaryDir>

#include <gtest/gtest.h>

#include "base/file.h"
#include "plan/read.h"
#include "window/prepare/plan_sketch.h"

namespace loftbeat::window {
namespace {

class PlanSketchTest : public ::testing::Test {
 protected:
  void SetUp() override {
    parish_ = scratch_.filePath("parish").toStdString();
    std::filesystem::copy(LOFTBEAT_SOURCE_DIR "/sessions/quaverham", parish_);
    plan_ = QString::fromStdString(parish_ + "/evening.plan.toml");
    unsaved_ = scratch_.filePath("settings/unsaved.plan.toml");
  }
  static void set_tempo(PlanSketch& sketch, double tempo, const QString& merges = {}) {
    sketch.change(
        "tempo", [tempo](plan::Plan& plan) { plan.tempo_bpm = tempo; }, merges);
  }
  QTemporaryDir scratch_;
  std::string parish_;
  QString plan_;
  QString unsaved_;
};

TEST_F(PlanSketchTest, EveryStepIsUndoneAndDoneAgain) {
  PlanSketch sketch(unsaved_);
  ASSERT_TRUE(sketch.open(plan_).ok());
  const std::string before = plan::format_plan(sketch.plan());
  set_tempo(sketch, 90);
  set_tempo(sketch, 91, "tempo");
  set_tempo(sketch, 92, "tempo");
  EXPECT_EQ(sketch.steps().count(), 2);  // typing on is one step
  sketch.steps().undo();
  EXPECT_EQ(sketch.plan().tempo_bpm, 90);
  sketch.steps().undo();
  EXPECT_EQ(plan::format_plan(sketch.plan()), before);
  sketch.steps().redo();
  sketch.steps().redo();
  EXPECT_EQ(sketch.plan().tempo_bpm, 92);
}

TEST_F(PlanSketchTest, ACrashLosesNothing) {
  {
    PlanSketch sketch(unsaved_);
    ASSERT_TRUE(sketch.open(plan_).ok());
    set_tempo(sketch, 99);
  }  // never saved
  EXPECT_NE(plan::read_plan(plan_.toStdString())->tempo_bpm, 99);
  PlanSketch again(unsaved_);
  ASSERT_TRUE(again.open(plan_).ok());
  EXPECT_TRUE(again.recovered());
  EXPECT_EQ(again.plan().tempo_bpm, 99);
  EXPECT_EQ(again.plan().file, plan_.toStdString());
  again.steps().undo();
  EXPECT_NE(again.plan().tempo_bpm, 99);
}

TEST_F(PlanSketchTest, AnotherHymnsChangesAreNotTakenUp) {
  {
    PlanSketch sketch(unsaved_);
    ASSERT_TRUE(sketch.open(plan_).ok());
    set_tempo(sketch, 99);
  }
  PlanSketch other(unsaved_);
  ASSERT_TRUE(other.open(QString::fromStdString(parish_ + "/azmon.plan.toml")).ok());
  EXPECT_FALSE(other.recovered());
}

TEST_F(PlanSketchTest, SavingKeepsWhatWasThere) {
  const std::string was = read_file(plan_.toStdString()).value();
  PlanSketch sketch(unsaved_);
  ASSERT_TRUE(sketch.open(plan_).ok());
  set_tempo(sketch, 99);
  EXPECT_FALSE(sketch.is_saved());
  ASSERT_TRUE(sketch.save().ok());
  EXPECT_TRUE(sketch.is_saved());
  EXPECT_EQ(plan::read_plan(plan_.toStdString())->tempo_bpm, 99);
  EXPECT_EQ(read_file(plan_.toStdString() + "~").value(), was);
  PlanSketch again(unsaved_);
  ASSERT_TRUE(again.open(plan_).ok());
  EXPECT_FALSE(again.recovered());
}

TEST_F(PlanSketchTest, APlanThatCannotBeReadChangesNothing) {
  PlanSketch sketch(unsaved_);
  ASSERT_TRUE(sketch.open(plan_).ok());
  EXPECT_FALSE(sketch.open("/nosuch.plan.toml").ok());
  EXPECT_EQ(sketch.plan().file, plan_.toStdString());
}

}  // namespace
}  // namespace loftbeat::window
