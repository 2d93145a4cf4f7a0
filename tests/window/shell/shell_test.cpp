// The window as a whole: its places are reached by mouse and by keys, and it opens where one was.

#include <QFileInfo>
#include <QPushButton>
#include <QStandardPaths>
#include <QTemporaryDir>
#include <QtTest>

#include <gtest/gtest.h>

#include "window/window.h"

namespace loftbeat::window {
namespace {

const QString kParish = QStringLiteral(LOFTBEAT_SOURCE_DIR "/sessions/quaverham");

class Shell : public ::testing::Test {
 protected:
  [[nodiscard]] QString settings() const { return scratch_.filePath("window.ini"); }
  QTemporaryDir scratch_;
};

QPushButton* button_named(QWidget& window, const QString& name) {
  for (QPushButton* button : window.findChildren<QPushButton*>())
    if (button->accessibleName() == name) return button;
  return nullptr;
}

TEST_F(Shell, PlacesAreReachedByMouseAndByKeys) {
  Desk desk(kParish, settings());
  MainWindow window(desk);
  window.show();
  window.activateWindow();
  ASSERT_TRUE(QTest::qWaitForWindowActive(&window));
  EXPECT_EQ(window.at(), MainWindow::At::prepare);
  QPushButton* keys = button_named(window, "At the keys");
  ASSERT_NE(keys, nullptr);
  QTest::mouseClick(keys, Qt::LeftButton);
  EXPECT_EQ(window.at(), MainWindow::At::keys);
  QTest::keyClick(&window, Qt::Key_3, Qt::ControlModifier);
  EXPECT_EQ(window.at(), MainWindow::At::look_back);
  QTest::keyClick(&window, Qt::Key_1, Qt::ControlModifier);
  EXPECT_EQ(window.at(), MainWindow::At::prepare);
}

TEST_F(Shell, OpensWhereOneWasWithTheSameHymn) {
  QString chosen;
  {
    Desk desk(kParish, settings());
    chosen = QString::fromStdString(desk.parish().plans.back().path);
    desk.choose_plan(chosen);
    desk.choose_look(Shade::dark, 150);
    MainWindow window(desk);
    window.go_to(MainWindow::At::keys);
    window.close();
  }
  Desk desk({}, settings());
  MainWindow window(desk);
  EXPECT_EQ(desk.plan(), chosen);
  EXPECT_EQ(desk.shade(), Shade::dark);
  EXPECT_EQ(desk.scale(), 150);
  EXPECT_EQ(window.at(), MainWindow::At::keys);
}

TEST_F(Shell, FindsTheParishByItself) {
  const Parish parish = find_parish(kParish.toStdString());
  ASSERT_EQ(parish.plans.size(), 3U);
  EXPECT_EQ(parish.organs.size(), 3U);
  EXPECT_EQ(parish.churches.size(), 2U);
  EXPECT_EQ(parish.services.size(), 1U);
  EXPECT_TRUE(find_parish("/nosuchfolder").plans.empty());
}

TEST_F(Shell, WhoeverBeginsGetsADemoParishOfHisOwn) {
  qputenv("XDG_DATA_HOME", scratch_.filePath("data").toUtf8());
  QStandardPaths::setTestModeEnabled(false);
  {
    Desk desk({}, settings());
    EXPECT_TRUE(QString::fromStdString(desk.parish().folder).startsWith(scratch_.path()));
    EXPECT_EQ(desk.parish().plans.size(), 3U);
    EXPECT_FALSE(desk.plan().isEmpty());
    EXPECT_TRUE(QFileInfo(desk.plan()).isWritable());
  }
  QStandardPaths::setTestModeEnabled(true);
  qunsetenv("XDG_DATA_HOME");
}

// A small laptop's screen is 1024 by 768, some of it the desktop's own.
TEST_F(Shell, FitsASmallScreen) {
  Desk desk(kParish, settings());
  MainWindow window(desk);
  EXPECT_LE(window.minimumSizeHint().width(), 1024);
  EXPECT_LE(window.minimumSizeHint().height(), 720);
}

TEST_F(Shell, TypeGrowsToTwiceItsSizeAndNoFurther) {
  Desk desk(kParish, settings());
  MainWindow window(desk);
  QPushButton* larger = button_named(window, "Larger type");
  ASSERT_NE(larger, nullptr);
  for (int i = 0; i < 9; ++i) QTest::mouseClick(larger, Qt::LeftButton);
  EXPECT_EQ(desk.scale(), 200);
}

TEST(LongWorkTest, TheNewestPieceOfWorkWinsAndACancelledOneTellsNothing) {
  LongWork work;
  int told = 0;
  work.start([&told](WorkState& state) -> LongWork::Finish {
    while (!state.cancelled()) QThread::msleep(1);
    return [&told] { told = 1; };
  });
  work.start([&told](WorkState&) -> LongWork::Finish { return [&told] { told = 2; }; });
  EXPECT_TRUE(QTest::qWaitFor([&] { return told != 0; }));
  EXPECT_EQ(told, 2);
  EXPECT_FALSE(work.runs());
  work.start([&told](WorkState& state) -> LongWork::Finish {
    while (!state.cancelled()) QThread::msleep(1);
    return [&told] { told = 3; };
  });
  work.cancel();
  QTest::qWait(20);
  EXPECT_EQ(told, 2);
}

}  // namespace
}  // namespace loftbeat::window
