// Looking back as a user does it: a practice is opened, a beat is chosen, its bar is seen. With
// LOFTBEAT_PICTURES=folder in the environment the place is drawn into it, in three sizes, light and
// dark.

#include <cstdlib>

#include <QAccessible>
#include <QApplication>
#include <QComboBox>
#include <QDir>
#include <QLabel>
#include <QListWidget>
#include <QMessageBox>
#include <QPushButton>
#include <QSignalSpy>
#include <QTabWidget>
#include <QTableWidget>
#include <QTimer>
#include <QtTest>

#include <gtest/gtest.h>

#include "kept.h"
#include "window/desk/desk.h"
#include "window/look_back/look_back_place.h"
#include "window/look_back/moment_pane.h"
#include "window/look_back/pass_views.h"
#include "window/look_back/practice_list.h"
#include "window/look_back/trend_view.h"
#include "window/notation/bar_view.h"

namespace loftbeat::window {
namespace {

class LookingBack : public ::testing::Test {
 protected:
  // Opens the newest practice and waits until it is shown.
  void open() {
    desk_ = std::make_unique<Desk>(QString::fromStdString(parish_.folder()), parish_.settings());
    place_ = std::make_unique<LookBackPlace>(*desk_);
    place_->resize(1180, 780);
    QSignalSpy opened(place_.get(), &LookBackPlace::opened);
    place_->show();
    place_->entered();
    ASSERT_TRUE(opened.count() > 0 || opened.wait(20000));
  }
  template <typename Widget>
  Widget* named(const QString& name) {
    for (Widget* widget : place_->findChildren<Widget*>())
      if (widget->accessibleName() == name) return widget;
    return nullptr;
  }
  void turn_to(int page) { place_->findChild<QTabWidget*>()->setCurrentIndex(page); }

  KeptParish parish_;
  std::unique_ptr<Desk> desk_;
  std::unique_ptr<LookBackPlace> place_;
};

TEST_F(LookingBack, ListsPracticesNewestFirstByTuneAndTellsWhatCannotBeRead) {
  parish_.keep("azmon", 3);
  parish_.keep("old-hundredth", 10);
  const std::string broken = parish_.keep("azmon", 12);
  ASSERT_TRUE(write_file(broken + "/practice.plan.toml", "tempo = \"quick\"\n").ok());
  open();
  auto* list = named<QListWidget>("Practices, the newest first");
  ASSERT_NE(list, nullptr);
  ASSERT_EQ(list->count(), 3);
  EXPECT_TRUE(list->item(0)->text().contains("Cannot be read"));
  QSignalSpy told(place_.get(), &LookBackPlace::told);
  list->setCurrentRow(1);
  list->setCurrentRow(0);
  ASSERT_TRUE(told.count() > 0 || told.wait(10000));
  EXPECT_TRUE(told.back().front().toString().contains("practice.plan.toml"));
  auto* tunes = named<QComboBox>("Tune");
  ASSERT_EQ(tunes->count(), 3);
  tunes->setCurrentIndex(1);
  EXPECT_EQ(list->count(), 1);
}

TEST_F(LookingBack, AChosenBeatShowsItsBarAndIsSpoken) {
  parish_.keep("azmon", 3);
  open();
  turn_to(1);
  const auto ribbons = place_->findChildren<RibbonView*>();
  ASSERT_GT(ribbons.size(), 1);
  RibbonView* ribbon = ribbons[1];  // verse 1; the play-over is a line only
  const auto& review = place_->practice()->review;
  for (const int beat : {0, 7, 20}) {
    QTest::mouseClick(ribbon, Qt::LeftButton, {}, ribbon->place_of(beat).toPoint());
    EXPECT_EQ(ribbon->chosen(), beat);
    const auto& measured = review.timing.passes[1].beats[static_cast<std::size_t>(beat)];
    EXPECT_TRUE(ribbon->spoken().contains("bar " + QString::fromStdString(measured.bar)));
    auto* bar = place_->findChild<BarView*>();
    EXPECT_EQ(review.score.bars[bar->first_bar()].number, measured.bar);
    EXPECT_TRUE(QTest::qWaitFor([&] { return bar->height() >= bar->minimumSizeHint().height(); }));
  }
  QTest::keyClick(ribbon, Qt::Key_Right);
  EXPECT_EQ(ribbon->chosen(), 21);
  QTest::keyClick(ribbon, Qt::Key_Home);
  EXPECT_EQ(ribbon->chosen(), 0);
}

TEST_F(LookingBack, AJoinLeadsToItsPlaceByKey) {
  parish_.keep("azmon", 3);
  open();
  turn_to(2);
  const auto joins = place_->findChildren<JoinView*>();
  ASSERT_EQ(static_cast<std::size_t>(joins.size()), place_->practice()->review.timing.joins.size());
  QTest::keyClick(joins[1], Qt::Key_Return);
  auto* pane = place_->findChild<MomentPane*>();
  ASSERT_TRUE(pane->moment().has_value());
  EXPECT_EQ(pane->moment()->join, 1);
  const double last_onset = place_->practice()->review.timing.joins[1].last_onset_s;
  EXPECT_LT(pane->moment()->hear_from_s, last_onset);
}

TEST_F(LookingBack, HearingWithoutADeviceSaysWhatToDo) {
  parish_.keep("azmon", 3);
  qputenv("JACK_NO_START_SERVER", "1");
  qputenv("JACK_DEFAULT_SERVER", "no-such-server");
  open();
  QSignalSpy told(place_.get(), &LookBackPlace::told);
  auto* hear = named<QPushButton>("Hear the take from here");
  ASSERT_NE(hear, nullptr);
  QTest::mouseClick(hear, Qt::LeftButton);
  auto* silence = named<QPushButton>("Silence at once");
  EXPECT_TRUE(silence->isEnabled());
  if (told.wait(20000)) {
    const QString sentence = told.back().front().toString();
    EXPECT_FALSE(sentence.contains("--")) << sentence.toStdString();
    EXPECT_TRUE(sentence.contains("try again")) << sentence.toStdString();
  } else {
    QTest::mouseClick(silence, Qt::LeftButton);  // there is a device here
  }
  EXPECT_FALSE(silence->isEnabled());
}

TEST_F(LookingBack, ComparesTwoPracticesOfOneHymn) {
  parish_.keep("azmon", 3);
  parish_.keep("azmon", 17);
  open();
  turn_to(3);
  auto* others = named<QComboBox>("Practice to compare with");
  ASSERT_EQ(others->count(), 2);
  others->setCurrentIndex(1);
  emit others->activated(1);
  ASSERT_TRUE(
      QTest::qWaitFor([&] { return named<QTableWidget>("Both in figures") != nullptr; }, 20000));
  auto* table = named<QTableWidget>("Both in figures");
  // The same take twice: both columns tell the same.
  for (int row = 0; row < table->rowCount(); ++row)
    EXPECT_EQ(table->item(row, 1)->text(), table->item(row, 2)->text());
}

TEST_F(LookingBack, TheWeeksLeadToAPractice) {
  const std::string first = parish_.keep("azmon", 3);
  parish_.keep("azmon", 17);
  open();
  turn_to(4);
  ASSERT_TRUE(QTest::qWaitFor([&] { return place_->findChild<TrendView*>() != nullptr; }, 20000));
  auto* trend = place_->findChild<TrendView*>();
  QTest::keyClick(trend, Qt::Key_Right);
  EXPECT_EQ(trend->chosen(), 0);
  EXPECT_FALSE(trend->spoken().isEmpty());
  QSignalSpy opened(place_.get(), &LookBackPlace::opened);
  QTest::keyClick(trend, Qt::Key_Return);
  ASSERT_TRUE(opened.wait(20000));
  EXPECT_EQ(place_->practice()->kept.folder.path, first);
}

TEST_F(LookingBack, WhatIsThereIsReplacedOnlyWhenAsked) {
  parish_.keep("azmon", 3);
  open();
  const QString path = parish_.file("mine.html");
  ASSERT_TRUE(write_file(path.toStdString(), "mine").ok());
  QTimer::singleShot(100, [] {
    auto* box = qobject_cast<QMessageBox*>(QApplication::activeModalWidget());
    ASSERT_NE(box, nullptr);
    QTest::keyClick(box, Qt::Key_Return);  // the button that is at hand keeps it
  });
  place_->save(SaveAs::page, path);
  EXPECT_EQ(*read_file(path.toStdString()), "mine");
  const QString fresh = parish_.file("new.html");
  QSignalSpy saved(place_.get(), &LookBackPlace::saved);
  place_->save(SaveAs::page, fresh);
  ASSERT_TRUE(saved.wait(20000));
  EXPECT_NE(read_file(fresh.toStdString())->find("<html"), std::string::npos);
}

// Source: WCAG 2.2, success criterion 4.1.2: every control has a name and a role.
TEST_F(LookingBack, EveryControlHasANameAndARole) {
  parish_.keep("azmon", 3);
  parish_.keep("azmon", 17);
  open();
  for (int page = 0; page < 5; ++page) {
    turn_to(page);
    QTest::qWait(50);
    for (QWidget* widget : place_->findChildren<QWidget*>()) {
      if (widget->focusPolicy() == Qt::NoFocus || !widget->isVisible()) continue;
      if (widget->objectName().startsWith("qt_") || widget->inherits("QTabBar")) continue;
      QAccessibleInterface* access = QAccessible::queryAccessibleInterface(widget);
      ASSERT_NE(access, nullptr);
      EXPECT_FALSE(access->text(QAccessible::Name).isEmpty())
          << widget->metaObject()->className() << " on page " << page;
      EXPECT_NE(access->role(), QAccessible::NoRole);
    }
  }
}

TEST_F(LookingBack, NothingPractisedYetSaysWhatToDo) {
  desk_ = std::make_unique<Desk>(QString::fromStdString(parish_.folder()), parish_.settings());
  place_ = std::make_unique<LookBackPlace>(*desk_);
  place_->show();
  place_->entered();
  QTest::qWait(200);
  bool told = false;
  for (QLabel* label : place_->findChildren<QLabel*>())
    told = told || (label->isVisible() && label->text().contains("At the keys"));
  EXPECT_TRUE(told);
}

TEST_F(LookingBack, IsDrawnInEverySizeLightAndDark) {
  for (const int day : {3, 9, 17, 26}) parish_.keep("old-hundredth", day);
  open();
  const char* folder = std::getenv("LOFTBEAT_PICTURES");
  struct Size {
    int width, height, type;
  };
  for (const Size size : {Size{1180, 780, 100}, Size{1600, 1000, 150}, Size{900, 640, 100}})
    for (const Shade shade : {Shade::light, Shade::dark}) {
      desk_->choose_look(shade, size.type);
      place_->resize(size.width, size.height);
      for (int page = 0; page < 5; ++page) {
        turn_to(page);
        QTest::qWait(page == 4 ? 400 : 150);  // words are laid out in several rounds
        if (page == 1) {
          auto* ribbon = place_->findChild<RibbonView*>();
          QTest::mouseClick(ribbon, Qt::LeftButton, {}, ribbon->place_of(9).toPoint());
        }
        const QPixmap picture = place_->grab();
        EXPECT_FALSE(picture.isNull());
        if (folder != nullptr)
          picture.save(QDir(folder).filePath(QString("look-%1-%2-%3.png")
                                                 .arg(size.width)
                                                 .arg(shade == Shade::dark ? "dark" : "light")
                                                 .arg(page)));
      }
    }
}

}  // namespace
}  // namespace loftbeat::window
