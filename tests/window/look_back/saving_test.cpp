// What is saved can be read again, and a cancelled sound leaves nothing behind.

#include <QFileInfo>
#include <QtTest>

#include <gtest/gtest.h>

#include "kept.h"
#include "report/json.h"
#include "take/smf_take.h"
#include "window/desk/long_work.h"
#include "window/look_back/saving.h"

namespace loftbeat::window {
namespace {

class Saved : public ::testing::Test {
 protected:
  void SetUp() override {
    app::KeptPractice kept;
    kept.folder.path = parish_.keep("azmon", 3);
    kept.name = "2026-11-03-0900-azmon";
    kept.when = app::when_of(kept.name);
    auto reviewed = app::review_practice(kept);
    ASSERT_TRUE(reviewed.ok());
    practice_ = std::move(*reviewed);
  }
  std::string save(SaveAs kind, const char* name) {
    const std::string path = parish_.file(name).toStdString();
    WorkState state;
    EXPECT_TRUE(save_practice(practice_, kind, path, {}, state).ok());
    return read_file(path, std::size_t{1} << 30).value();
  }
  KeptParish parish_;
  app::ReviewedPractice practice_;
};

TEST_F(Saved, PdfPageAndFiguresAreWhatTheirNamesSay) {
  // Source: ISO 32000-1, 7.5.2 and 7.5.5: a file begins with %PDF- and ends with %%EOF.
  const std::string pdf = save(SaveAs::pdf, "a.pdf");
  EXPECT_EQ(pdf.substr(0, 5), "%PDF-");
  EXPECT_NE(pdf.rfind("%%EOF"), std::string::npos);
  EXPECT_NE(save(SaveAs::page, "a.html").find(practice_.tune), std::string::npos);
  EXPECT_EQ(save(SaveAs::json, "a.json"), report::format_json(practice_.review));
}

TEST_F(Saved, TheTakeComesBackWithAMarkerForEachPass) {
  const auto back = take::parse_take(save(SaveAs::midi, "a.mid"), "a.mid");
  ASSERT_TRUE(back.ok());
  const auto count = [](const take::Take& take, take::EventKind kind) {
    return std::count_if(take.events.begin(), take.events.end(),
                         [&](const take::Event& event) { return event.kind == kind; });
  };
  EXPECT_EQ(count(*back, take::EventKind::note_on),
            count(practice_.take, take::EventKind::note_on));
  EXPECT_EQ(count(*back, take::EventKind::marker) - count(practice_.take, take::EventKind::marker),
            static_cast<std::ptrdiff_t>(practice_.review.alignment.passes.size()));
}

TEST_F(Saved, ACancelledSoundLeavesNothingBehind) {
  const QString path = parish_.file("a.wav");
  LongWork work;
  bool finished = false;
  work.start([&](WorkState& state) -> LongWork::Finish {
    (void)save_practice(practice_, SaveAs::wav, path.toStdString(), {}, state);
    return [&] { finished = true; };
  });
  ASSERT_TRUE(QTest::qWaitFor([&] { return work.done() > 0 || finished; }, 30000));
  ASSERT_FALSE(finished);
  work.cancel();
  work.start([](WorkState&) -> LongWork::Finish { return [] {}; });  // comes after it
  ASSERT_TRUE(QTest::qWaitFor([&] { return !work.runs(); }, 30000));
  EXPECT_FALSE(QFileInfo::exists(path));
  EXPECT_FALSE(finished);
}

}  // namespace
}  // namespace loftbeat::window
