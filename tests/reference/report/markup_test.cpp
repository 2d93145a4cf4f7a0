// Source: an independent parser. The page read by a parser of another make: Python's html.parser
// and xml.etree (standard library), in page_facts.py.

#include <unistd.h>

#include <cstdlib>
#include <string>

#include <gtest/gtest.h>

#include "base/file.h"
#include "outside_tool.h"
#include "report/page.h"
#include "sample_review.h"

namespace loftbeat::report {
namespace {

int facts_hold(const practice::Review& review, const char* name) {
  const std::string path =
      ::testing::TempDir() + std::to_string(::getpid()) + "loftbeat-page-" + name + ".html";
  EXPECT_TRUE(write_file(path, format_page(review)).ok());
  const std::string script =
      std::string(LOFTBEAT_SOURCE_DIR) + "/tests/reference/report/page_facts.py";
  return std::system(("python3 '" + script + "' '" + path + "'").c_str());
}

TEST(Page, IsWellFormedClosedAndTellsEveryDrawingInWords) {
  if (!testing::is_there("python3 --version", "python3")) GTEST_SKIP();
  EXPECT_EQ(facts_hold(loftbeat::testing::sample_review(), "sample"), 0);
  EXPECT_EQ(facts_hold(loftbeat::testing::sample_review({32, 6}), "large"), 0);
}

TEST(Page, StaysClosedWhateverTheFilesSay) {
  if (!testing::is_there("python3 --version", "python3")) GTEST_SKIP();
  practice::Review review = loftbeat::testing::sample_review();
  const std::string evil =
      "</svg><script>alert(1)</script><img src=//x.example/a onerror='x'>\x01\xFF";
  review.plan.title = review.take_name = evil;
  review.advice.push_back(evil);
  review.notices.push_back({evil, evil, 3});
  for (auto& pass : review.alignment.passes) pass.label = evil;
  for (auto& bar : review.score.bars) bar.number = evil;
  for (auto& pass : review.timing.passes) {
    for (auto& beat : pass.beats) beat.bar = evil;
    pass.steadiness_percent = Measured<double>::unknown(evil);
  }
  EXPECT_EQ(facts_hold(review, "evil"), 0);
}

}  // namespace
}  // namespace loftbeat::report
