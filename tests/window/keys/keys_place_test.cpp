// The place as a user meets it, without keyboard and sound device: a simulated player plays the
// demo hymn, one sees where he is, and the practice is kept.

#include <algorithm>
#include <filesystem>

#include <QComboBox>
#include <QPushButton>
#include <QSpinBox>
#include <QTemporaryDir>
#include <QtTest>

#include <gtest/gtest.h>

#include "take/smf_take.h"
#include "window/keys/keys_place.h"
#include "window/keys/now_view.h"
#include "window/window.h"

namespace loftbeat::window {
namespace {

using State = PracticeSight::State;

class KeysPlaceTest : public ::testing::Test {
 protected:
  void SetUp() override {
    const std::string parish = scratch_.filePath("parish").toStdString();
    std::filesystem::copy(LOFTBEAT_SOURCE_DIR "/sessions/quaverham", parish);
    desk_ = std::make_unique<Desk>(QString::fromStdString(parish), scratch_.filePath("s.ini"));
    desk_->choose_plan(QString::fromStdString(parish + "/evening.plan.toml"));
    place_ = std::make_unique<KeysPlace>(*desk_);
    place_->resize(1200, 800);
    place_->show();
    place_->entered();
  }
  QPushButton* button(const QString& name) {
    for (QPushButton* found : place_->findChildren<QPushButton*>())
      if (found->accessibleName() == name) return found;
    return nullptr;
  }
  template <typename Condition>
  bool comes(Condition condition, int seconds = 60) {
    return QTest::qWaitFor(condition, 1000 * seconds);
  }

  QTemporaryDir scratch_;
  std::unique_ptr<Desk> desk_;
  std::unique_ptr<KeysPlace> place_;
};

TEST_F(KeysPlaceTest, ASimulatedPlayerIsFollowedAndThePracticeIsKept) {
  QString kept;
  QObject::connect(desk_.get(), &Desk::practice_kept, [&](const QString& path) { kept = path; });
  QPushButton* simulated = button("Try without a keyboard");
  ASSERT_NE(simulated, nullptr);
  QTest::mouseClick(simulated, Qt::LeftButton);
  ASSERT_TRUE(comes([&] { return place_->sight().state == State::playing; }));
  ASSERT_TRUE(comes([&] { return place_->sight().place.pass == "play-over"; }));
  EXPECT_TRUE(comes([&] { return place_->sight().place.beat == 3; }));
  EXPECT_EQ(place_->sight().place.beats, 4);
  EXPECT_FALSE(place_->sight().drawn.empty());
  EXPECT_FALSE(place_->findChild<NowView*>()->accessibleDescription().isEmpty());
  QPushButton* stop = button("Stop listening");
  ASSERT_NE(stop, nullptr);
  QTest::mouseClick(stop, Qt::LeftButton);
  ASSERT_TRUE(comes([&] { return place_->sight().state == State::closed; }));
  ASSERT_TRUE(comes([&] { return !kept.isEmpty(); }));
  EXPECT_TRUE(std::filesystem::exists(kept.toStdString() + "/take.mid"));
  EXPECT_TRUE(button("Look back at it")->isEnabled());
}

TEST_F(KeysPlaceTest, AStopThatIsClickedIsDrawnAndMarked) {
  QTest::mouseClick(button("Try without a keyboard"), Qt::LeftButton);
  ASSERT_TRUE(comes([&] { return place_->sight().state == State::playing; }));
  QPushButton* fifteenth = button("Great Fifteenth 2");
  ASSERT_NE(fifteenth, nullptr);
  EXPECT_FALSE(fifteenth->isChecked());
  QTest::mouseClick(fifteenth, Qt::LeftButton);
  EXPECT_TRUE(comes([&] { return fifteenth->isChecked(); }));
  EXPECT_TRUE(fifteenth->text().startsWith(QStringLiteral("✓")));  // not by colour alone
  QString kept;
  QObject::connect(desk_.get(), &Desk::practice_kept, [&](const QString& path) { kept = path; });
  QTest::mouseClick(button("Stop listening"), Qt::LeftButton);
  ASSERT_TRUE(comes([&] { return !kept.isEmpty(); }));
  const auto take = take::read_take(kept.toStdString() + "/take.mid");
  ASSERT_TRUE(take.ok());
  EXPECT_TRUE(std::any_of(take->events.begin(), take->events.end(), [](const auto& event) {
    return event.kind == take::EventKind::marker &&
           event.bytes.find("+ Great Fifteenth 2") != std::string::npos;
  }));
}

TEST_F(KeysPlaceTest, ClosingKeepsWhatIsPlayed) {
  QTest::mouseClick(button("Try without a keyboard"), Qt::LeftButton);
  ASSERT_TRUE(comes([&] { return place_->sight().place.bar == "2"; }));
  place_->closing();
  int takes = 0;
  for (const auto& entry :
       std::filesystem::recursive_directory_iterator(desk_->parish().practices()))
    takes += entry.path().filename() == "take.mid" ? 1 : 0;
  EXPECT_EQ(takes, 1);
}

TEST_F(KeysPlaceTest, WithoutAKeyboardItSaysWhatToDo) {
  QTest::mouseClick(button("Listen to me"), Qt::LeftButton);
  ASSERT_TRUE(comes(
      [&] { return !place_->sight().trouble.empty() || place_->sight().state == State::waiting; }));
  if (place_->sight().state == State::waiting) GTEST_SKIP() << "there is a keyboard";
  EXPECT_NE(place_->sight().trouble.find("MIDI"), std::string::npos) << place_->sight().trouble;
}

// Source: WCAG 2.2, success criterion 2.5.5 (target size, enhanced): 44 by 44 CSS pixels; 4.1.2:
// every control has a name.
TEST_F(KeysPlaceTest, EverythingThatIsPressedIsLargeAndNamed) {
  for (QPushButton* found : place_->findChildren<QPushButton*>()) {
    EXPECT_FALSE(found->accessibleName().isEmpty());
    EXPECT_GE(found->minimumHeight(), 44) << found->text().toStdString();
  }
  for (QComboBox* found : place_->findChildren<QComboBox*>()) {
    EXPECT_FALSE(found->accessibleName().isEmpty());
    EXPECT_GE(found->minimumHeight(), 44);
  }
  for (QSpinBox* found : place_->findChildren<QSpinBox*>())
    EXPECT_FALSE(found->accessibleName().isEmpty());
}

}  // namespace
}  // namespace loftbeat::window
