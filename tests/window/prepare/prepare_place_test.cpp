// A hymn is made ready as a user would do it: chosen, registered, checked, suggested for, printed.

#include <filesystem>

#include <QComboBox>
#include <QLabel>
#include <QLineEdit>
#include <QListWidget>
#include <QPushButton>
#include <QRadioButton>
#include <QSpinBox>
#include <QTemporaryDir>
#include <QtTest>

#include <gtest/gtest.h>

#include "base/file.h"
#include "plan/read.h"
#include "window/prepare/brightness_ladder.h"
#include "window/prepare/prepare_place.h"
#include "window/prepare/suggestion_dialog.h"

namespace loftbeat::window {
namespace {

class PreparePlaceTest : public ::testing::Test {
 protected:
  void SetUp() override {
    parish_ = scratch_.filePath("parish").toStdString();
    std::filesystem::copy(LOFTBEAT_SOURCE_DIR "/sessions/quaverham", parish_);
    desk_ = std::make_unique<Desk>(QString::fromStdString(parish_), scratch_.filePath("s.ini"));
    desk_->choose_plan(QString::fromStdString(parish_ + "/evening.plan.toml"));
    place_ = std::make_unique<PreparePlace>(*desk_);
    place_->resize(1300, 850);
    place_->show();
    ASSERT_TRUE(comes([this] { return judged() != nullptr; }));
  }
  [[nodiscard]] const Judgement* judged() const { return place_->judgement().get(); }
  template <typename Condition>
  bool comes(Condition condition) {
    return QTest::qWaitFor(condition, 20'000);
  }
  // Waits for the judgement that follows an edit.
  template <typename Edit>
  void judged_after(Edit edit) {
    const auto before = place_->judgement();
    edit();
    EXPECT_TRUE(comes([&] { return place_->judgement() != before; }));
  }
  template <typename Widget>
  Widget* named(const QString& name) {
    for (Widget* found : place_->findChildren<Widget*>())
      if (found->accessibleName() == name) return found;
    ADD_FAILURE() << "nothing is named " << name.toStdString();
    return nullptr;
  }
  void press(const QString& name) { QTest::mouseClick(named<QPushButton>(name), Qt::LeftButton); }
  [[nodiscard]] int faults() const {
    int count = 0;
    for (const JudgedFinding& finding : judged()->findings) count += finding.is_note ? 0 : 1;
    return count;
  }

  QTemporaryDir scratch_;
  std::string parish_;
  std::unique_ptr<Desk> desk_;
  std::unique_ptr<PreparePlace> place_;
};

TEST_F(PreparePlaceTest, AStopThatIsDrawnChangesMeasuresAndFindingsAndCanBeUndone) {
  ASSERT_TRUE(judged()->measures);
  press("verse 1");
  const double before = judged()->measures->passes[1].full.sharpness_acum.value();
  const int faults_before = faults();
  judged_after([this] { press("Great Fifteenth 2"); });
  EXPECT_GT(judged()->measures->passes[1].full.sharpness_acum.value(), before);
  // The play-over promises less than verse 1 now gives, or the join gets a move: something to say.
  EXPECT_NE(faults(), faults_before);
  EXPECT_TRUE(named<QPushButton>("Great Fifteenth 2")->isChecked());
  judged_after([this] { press("Undo"); });
  EXPECT_EQ(judged()->measures->passes[1].full.sharpness_acum.value(), before);
  EXPECT_EQ(faults(), faults_before);
  EXPECT_FALSE(named<QPushButton>("Great Fifteenth 2")->isChecked());
}

TEST_F(PreparePlaceTest, ALookAtAStopShowsWhatItWouldDo) {
  auto* ladder = place_->findChild<BrightnessLadder*>();
  ASSERT_NE(ladder, nullptr);
  EXPECT_TRUE(ladder->accessibleDescription().contains("verse 3"));
  const auto preview = preview_of(*judged()->measures, 1, 3);
  ASSERT_TRUE(preview);
  named<QPushButton>("Great Fifteenth 2")->setFocus();
  EXPECT_TRUE(comes([&] { return ladder->accessibleDescription().contains("with Fifteenth 2"); }));
}

TEST_F(PreparePlaceTest, TheFindingStandsBesideThePassThatCausesIt) {
  press("verse 3");
  const auto* told = named<QLabel>("What the check says of this pass");
  EXPECT_TRUE(told->text().contains("⚠")) << told->text().toStdString();
  press("verse 2");
  EXPECT_FALSE(told->text().contains("⚠")) << told->text().toStdString();
}

TEST_F(PreparePlaceTest, ASuggestionIsOneStepAndHasNoFault) {
  press("Suggest …");
  SuggestionDialog* dialog = nullptr;
  ASSERT_TRUE(comes([&] { return (dialog = place_->findChild<SuggestionDialog*>()) != nullptr; }));
  EXPECT_GE(dialog->findChildren<QRadioButton*>().size(), 1);
  const int steps = place_->sketch().plan().verse_plans.empty() ? 0 : 1;
  static_cast<void>(steps);
  judged_after([&] { dialog->accept(); });
  EXPECT_EQ(faults(), 0);
  judged_after([this] { press("Undo"); });
  EXPECT_GT(faults(), 0);
}

TEST_F(PreparePlaceTest, TheWayToAPrintedCard) {
  auto* search = named<QLineEdit>("Search hymns");
  QTest::keyClicks(search, "all people");
  auto* hymns = named<QListWidget>("Hymns");
  ASSERT_EQ(hymns->count(), 1);
  judged_after([&] { hymns->setCurrentRow(0); });
  EXPECT_TRUE(desk_->plan().endsWith("old-hundredth.plan.toml"));
  judged_after([this] { named<QSpinBox>("People expected")->setValue(40); });
  EXPECT_EQ(place_->sketch().plan().people.value_or(0), 40);
  const QString card = scratch_.filePath("card.pdf");
  place_->save_card(card);
  const auto bytes = read_file(card.toStdString());
  ASSERT_TRUE(bytes.ok());
  EXPECT_EQ(bytes->rfind("%PDF", 0), 0U);
}

TEST_F(PreparePlaceTest, LeavingWritesThePlan) {
  judged_after([this] { named<QSpinBox>("Verses")->setValue(2); });
  place_->left();
  const auto plan = plan::read_plan(parish_ + "/evening.plan.toml");
  ASSERT_TRUE(plan.ok());
  EXPECT_EQ(plan->verses.value_or(0), 2);
  EXPECT_EQ(plan->verse_plans.count(3), 0U);  // nothing is left of a verse that is not sung
}

TEST_F(PreparePlaceTest, AScoreWithoutAPlanGetsOne) {
  std::filesystem::copy(parish_ + "/azmon.musicxml", parish_ + "/fresh.musicxml");
  desk_->refresh();
  auto* hymns = named<QListWidget>("Hymns");
  const auto rows = hymns->findItems("fresh", Qt::MatchStartsWith);
  ASSERT_EQ(rows.size(), 1);
  judged_after([&] { hymns->setCurrentItem(rows.front()); });
  EXPECT_TRUE(std::filesystem::exists(parish_ + "/fresh.plan.toml"));
  EXPECT_TRUE(judged()->trouble.empty()) << judged()->trouble;
}

TEST_F(PreparePlaceTest, WithoutASoundDeviceItSaysWhatToDo) {
  press("Hear");
  const auto* told = named<QLabel>("What happened");
  EXPECT_TRUE(told->text().contains("volume"));
  if (!comes([&] { return told->text().contains("device"); })) GTEST_SKIP() << "there is a device";
  EXPECT_TRUE(told->text().contains("no sound device") || told->text().contains("device"));
}

// A small laptop's screen is 1024 wide.
TEST_F(PreparePlaceTest, FitsASmallScreen) {
  EXPECT_LE(place_->minimumSizeHint().width(), 1000);
  EXPECT_LE(place_->minimumSizeHint().height(), 660);
}

// Source: WCAG 2.2, success criterion 4.1.2: every control has a name.
TEST_F(PreparePlaceTest, EveryControlIsNamed) {
  for (QWidget* found : place_->findChildren<QWidget*>()) {
    if (found->focusPolicy() == Qt::NoFocus || !found->isVisible()) continue;
    const bool part_of_another = qobject_cast<QSpinBox*>(found->parentWidget()) != nullptr ||
                                 found->objectName().startsWith("qt_");
    if (part_of_another || found->inherits("QAbstractScrollArea")) continue;
    EXPECT_FALSE(found->accessibleName().isEmpty()) << found->metaObject()->className();
  }
}

}  // namespace
}  // namespace loftbeat::window
