#include "plan/service.h"

#include <gtest/gtest.h>

namespace loftbeat::plan {
namespace {

TEST(Service, ListsItsHymnsInOrder) {
  const auto service = parse_service(
      "title = \"Evensong\"\ndate = \"2028-02-29\"\n[[hymn]]\nplan = \"a.plan.toml\"\n"
      "number = 12\n[[hymn]]\nplan = \"/b/c.plan.toml\"\nnumber = \"210 b\"\n[[hymn]]\n"
      "plan = \"../a.plan.toml\"\n",
      "parish/week.service.toml");
  ASSERT_TRUE(service.ok()) << to_string(service.error());
  EXPECT_EQ(service->title, "Evensong");
  EXPECT_EQ(service->date, "2028-02-29");
  EXPECT_EQ(service->file, "parish/week.service.toml");
  const std::vector<ServiceHymn> expected = {
      {"parish/a.plan.toml", "12", 4}, {"/b/c.plan.toml", "210 b", 7}, {"a.plan.toml", "", 10}};
  EXPECT_EQ(service->hymns, expected);
}

struct Case {
  std::string text;
  int line;
  std::string says;
};

TEST(Service, WhatIsWrongIsToldWithItsLine) {
  const std::string hymn = "[[hymn]]\nplan = \"a\"\n";
  const std::vector<Case> cases = {
      {hymn, 1, "\"title\" is missing"},
      {"title = \"\"\n" + hymn, 1, "the name of the service"},
      {"title = \"x\"\n", 1, "\"hymn\" is missing"},
      {"title = \"x\"\nhymn = []\n", 2, "one [[hymn]] or more"},
      {"title = \"x\"\ndate = \"2027-02-29\"\n" + hymn, 2, "a day as year, month and day"},
      {"title = \"x\"\ndate = \"29.11.2026\"\n" + hymn, 2, "such as \"2026-11-29\""},
      {"title = \"x\"\ndate = \"2026-13-01\"\n" + hymn, 2, "a day as year"},
      {"title = \"x\"\ndate = \"2026-1a-01\"\n" + hymn, 2, "a day as year"},
      {"title = \"x\"\n[[hymn]]\npaln = \"a\"\n", 3, "Did you mean \"plan\"?"},
      {"title = \"x\"\n[[hymn]]\nplan = \"\"\n", 3, "the file of a plan"},
      {"title = \"x\"\n" + hymn + "number = 3.5\n", 4, "expected a text"},
      {"title = \"x\"\n" + hymn + "number = \"" + std::string(21, '1') + "\"\n", 4, "at most 20"},
  };
  for (const Case& one : cases) {
    const auto service = parse_service(one.text, "x.service.toml");
    ASSERT_FALSE(service) << one.text;
    EXPECT_EQ(service.error().line, one.line) << to_string(service.error());
    EXPECT_NE(to_string(service.error()).find(one.says), std::string::npos)
        << to_string(service.error());
  }
  std::string many = "title = \"x\"\n";
  for (int i = 0; i < 61; ++i) many += hymn;
  EXPECT_FALSE(parse_service(many, "x.service.toml"));
}

}  // namespace
}  // namespace loftbeat::plan
