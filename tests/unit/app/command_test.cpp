// The program itself, as it is called: exit codes, what goes where, on the demo parish.

#include <cstdio>
#include <cstdlib>
#include <string>

#include <gtest/gtest.h>

#include "base/file.h"
#include "program.h"
#include "take/smf_take.h"

namespace loftbeat::app {
namespace {

const std::string kSessions = std::string(LOFTBEAT_SOURCE_DIR) + "/sessions/";
const std::string kDemo = "review '" + kSessions + "demo.plan.toml' '" + kSessions + "demo.mid' ";

std::size_t lines_in(const std::string& text) {
  std::size_t lines = 0;
  for (const char c : text) lines += c == '\n' ? 1 : 0;
  return lines;
}

TEST(Command, ReviewsTheDemo) {
  const Ending ending = run(kDemo);
  EXPECT_EQ(ending.code, 0) << ending.errors;
  EXPECT_NE(ending.output.find("Practise first"), std::string::npos);
  EXPECT_EQ(ending.output.find('\x1b'), std::string::npos);  // no terminal, no colour
}

TEST(Command, StandardOutputHoldsTheJsonAlone) {
  const Ending ending = run(kDemo + "--json -");
  EXPECT_EQ(ending.code, 0);
  EXPECT_EQ(ending.output.rfind("{\"format\":\"loftbeat-review\",\"version\":1,", 0), 0u);
  EXPECT_EQ(ending.output.substr(ending.output.size() - 2), "}\n");
}

TEST(Command, StandardOutputHoldsThePageAlone) {
  const Ending ending = run(kDemo + "--page -");
  EXPECT_EQ(ending.code, 0);
  EXPECT_EQ(ending.output.rfind("<!DOCTYPE html>", 0), 0u);
}

TEST(Command, WritesBothFilesBesideTheText) {
  const std::string stem = scratch("both");
  const Ending ending = run(kDemo + "--json '" + stem + ".json' --page '" + stem + ".html'");
  EXPECT_EQ(ending.code, 0);
  EXPECT_TRUE(read_file(stem + ".json").ok());
  EXPECT_TRUE(read_file(stem + ".html").ok());
  EXPECT_NE(ending.output.find("The beat"), std::string::npos);
}

TEST(Command, AnUnreadableFileIsThreeWithOneLine) {
  for (const std::string& arguments :
       {std::string("review nowhere.plan.toml nowhere.mid"),
        "review '" + kSessions + "demo.plan.toml' '" + kSessions + "README.md'",
        "review --tempo 76 --score '" + kSessions + "README.md' '" + kSessions + "demo.mid'"}) {
    const Ending ending = run(arguments);
    EXPECT_EQ(ending.code, 3) << arguments;
    EXPECT_EQ(lines_in(ending.errors), 1u) << ending.errors;
    EXPECT_TRUE(ending.output.empty());
  }
}

TEST(Command, WrongUseIsTwo) {
  EXPECT_EQ(run("").code, 2);
  EXPECT_EQ(run("review").code, 2);
  EXPECT_EQ(run("review --score x.mxl").code, 2);
}

// Fewer than four notes belong to no tune (follow/alignment.h).
TEST(Command, ATakeThatDoesNotFitIsFourAndSaysHowMuchDid) {
  take::Take take;
  for (int i = 0; i < 3; ++i) {
    take::Event event;
    event.at = instant_from_seconds(i);
    event.data1 = 60;
    event.data2 = 64;
    take.events.push_back(event);
  }
  const std::string path = scratch("three-notes.mid");
  ASSERT_TRUE(write_file(path, take::format_take(take)).ok());
  const Ending ending = run("review '" + kSessions + "demo.plan.toml' '" + path + "'");
  EXPECT_EQ(ending.code, 4) << ending.output;
  EXPECT_NE(ending.errors.find_first_of("0123456789"), std::string::npos) << ending.errors;
  EXPECT_EQ(lines_in(ending.errors), 1u) << ending.errors;
}

TEST(Command, AFullDiskIsOne) { EXPECT_EQ(run(kDemo + "--json /dev/full").code, 1); }

}  // namespace
}  // namespace loftbeat::app
