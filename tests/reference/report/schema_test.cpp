// Source: JSON Schema, draft 2020-12. The JSON against its published schema, judged by an
// independent validator: Debian's python3-jsonschema (https://python-jsonschema.readthedocs.io),
// draft 2020-12.

#include <cmath>
#include <unistd.h>

#include <cstdlib>
#include <string>

#include <gtest/gtest.h>

#include "base/file.h"
#include "outside_tool.h"
#include "report/json.h"
#include "sample_review.h"

namespace loftbeat::report {
namespace {

const std::string kSource = LOFTBEAT_SOURCE_DIR;
const std::string kSchema = kSource + "/src/report/loftbeat-review.schema.json";
const std::string kExample = kSource + "/src/report/loftbeat-review.example.json";

class Schema : public ::testing::Test {
 protected:
  void SetUp() override {
    if (!testing::is_there("python3 -c 'import jsonschema'", "python3-jsonschema")) {
      GTEST_SKIP() << "python3-jsonschema is missing";
    }
  }

  static int validate(const std::string& json, const char* name) {
    const std::string path =
        ::testing::TempDir() + std::to_string(::getpid()) + "loftbeat-schema-" + name + ".json";
    EXPECT_TRUE(write_file(path, json).ok());
    return run(path);
  }

  static int run(const std::string& path) {
    const std::string command = "python3 '" + kSource + "/tests/reference/report/validate.py' '" +
                                kSchema + "' '" + path + "'";
    return std::system(command.c_str());
  }
};

practice::Review with_everything_unknown() {
  practice::Review review = loftbeat::testing::sample_review();
  for (timing::PassMeasures& pass : review.timing.passes) {
    const int index = pass.pass;
    pass = {};
    pass.pass = index;
    pass.beats.emplace_back();
  }
  for (timing::JoinMeasures& join : review.timing.joins) {
    const int before = join.before;
    const int after = join.after;
    join = {};
    join.before = before;
    join.after = after;
    join.silence_s = std::nan("");
  }
  review.timing.play_over = Measured<timing::PlayOverMeasures>::unknown("there is no play-over");
  review.plan.file.clear();
  review.plan.verses.reset();
  review.plan.join.reset();
  review.alignment.notes[0] = {-1, -1, follow::MatchKind::extra};
  review.alignment.passes[1].route_pass = -1;
  return review;
}

TEST_F(Schema, HoldsForTheSample) {
  EXPECT_EQ(validate(format_json(loftbeat::testing::sample_review()), "sample"), 0);
}

TEST_F(Schema, HoldsWhereNothingIsKnown) {
  EXPECT_EQ(validate(format_json(with_everything_unknown()), "unknown"), 0);
}

TEST_F(Schema, HoldsForTheExample) { EXPECT_EQ(run(kExample), 0); }

TEST_F(Schema, RefusesWhatIsNotInIt) {
  std::string json = format_json(loftbeat::testing::sample_review());
  const auto spoilt = [&](const std::string& from, const std::string& to) {
    std::string text = json;
    const std::size_t at = text.find(from);
    EXPECT_NE(at, std::string::npos) << from;
    return text.replace(at, from.size(), to);
  };
  EXPECT_NE(validate(spoilt("\"version\":1", "\"version\":2"), "version"), 0);
  EXPECT_NE(validate(spoilt("\"struck\":true", "\"struck\":1"), "type"), 0);
  EXPECT_NE(validate(spoilt("\"verdict\":", "\"verdikt\":"), "key"), 0);
  EXPECT_NE(validate(spoilt("\"kind\":\"matched\"", "\"kind\":\"right\""), "enum"), 0);
}

// The example in the tree is what the program writes today.
TEST(Example, IsWhatIsWritten) {
  const Result<std::string> example = read_file(kExample);
  ASSERT_TRUE(example.ok());
  EXPECT_TRUE(*example == format_json(loftbeat::testing::sample_review()))
      << "make it again: report_sample json > src/report/loftbeat-review.example.json";
}

}  // namespace
}  // namespace loftbeat::report
