#include "report/history_page.h"
#include "report/history_text.h"

#include <gtest/gtest.h>

#include "report/utf8.h"

namespace loftbeat::report {
namespace {

practice::TuneHistory tune(const std::string& name, int practices) {
  practice::TuneHistory history;
  history.tune = name;
  for (int i = 0; i < practices; ++i) {
    practice::PracticeFigures figures;
    figures.when = "2026-11-" + std::to_string(10 + i) + " 09:15";
    figures.join_error_ms = 200.0 - 10 * i;
    if (i % 2 == 0) figures.steadiness_percent = 2.5;
    figures.stops_clean = i;
    history.practices.push_back(figures);
  }
  return history;
}

// Counted by hand, the largest as high as can be.
TEST(HistoryText, SparklinesHaveEightHeights) {
  EXPECT_EQ(sparkline({0.0, 50.0, 100.0}), "▁▄█");
  EXPECT_EQ(sparkline({100.0, Measured<double>::unknown("why"), 0.0}), "█·▁");
  EXPECT_EQ(sparkline({0.0, 0.0}), "▁▁");
  EXPECT_EQ(sparkline({}), "");
}

TEST(HistoryText, KeepsToTheWidthOfTheTerminal) {
  const std::vector<practice::TuneHistory> histories = {
      tune("O for a thousand tongues to sing my great Redeemer's praise", 14), tune("Azmon", 2)};
  for (const int width : {40, 80, 120}) {
    std::string text =
        history_text(histories, {"one: broken"}, {width, TerminalStyle::Colour::none});
    text += history_text({histories[0]}, {}, {width, TerminalStyle::Colour::none});
    std::size_t begin = 0;
    while (begin < text.size()) {
      const std::size_t end = text.find('\n', begin);
      EXPECT_LE(display_width(text.substr(begin, end - begin)), static_cast<std::size_t>(width));
      begin = end + 1;
    }
  }
}

TEST(HistoryText, NothingPractisedIsSaid) {
  EXPECT_NE(history_text({}, {}, {}).find("Nothing has been practised yet"), std::string::npos);
}

TEST(HistoryText, WhatWasNeverPractisedComesFirst) {
  practice::Need bad{3, practice::Need::Of::joins, 180, true};
  practice::Need good{0.5, practice::Need::Of::joins, 30, true};
  const std::string text =
      service_needs_text({{"1 Good", good}, {"2 Bad", bad}, {"3 New", {}}}, "Evensong", {});
  EXPECT_LT(text.find("3 New"), text.find("2 Bad"));
  EXPECT_LT(text.find("2 Bad"), text.find("1 Good"));
}

TEST(HistoryPage, EscapesWhatComesFromFiles) {
  const std::string evil = "<script>alert('x')</script>&\"";
  const std::string page = history_page({tune(evil, 3)}, {evil});
  EXPECT_EQ(page.find("<script"), std::string::npos);
  EXPECT_NE(page.find("&lt;script"), std::string::npos);
  EXPECT_NE(page.find("<svg"), std::string::npos);
}

}  // namespace
}  // namespace loftbeat::report
