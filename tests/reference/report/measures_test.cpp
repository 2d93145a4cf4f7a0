// Source: JSON Schema, draft 2020-12. The measures' JSON against its schema, judged by Debian's
// python3-jsonschema; the page read by Python's html.parser and xml.etree (page_facts.py).

#include <unistd.h>

#include <cstdlib>
#include <string>

#include <gtest/gtest.h>

#include "base/file.h"
#include "outside_tool.h"
#include "parish.h"
#include "report/report.h"

namespace loftbeat::report {
namespace {

const std::string kSource = LOFTBEAT_SOURCE_DIR;
const std::string kSchema = kSource + "/src/report/loftbeat-measures.schema.json";

// Three passes: with upper work and a coupled Swell, without, and a silent one.
advise::PlanMeasures sample() {
  const advise::Parish& all = advise::parish();
  auto full =
      all.drawn({"Great Open Diapason 8", "Great Mixture III", "Swell Oboe 8"}, {"Swell to Great"});
  full.swell[advise::kSwell] = 0.5;
  full.tremulants = {0};
  const std::vector<advise::PlayedPass> passes = {
      {"play-over", full, advise::held(0, 6), 62, 74},
      {"1", all.drawn({"Great Stopped Diapason 8"}), advise::held(0, 6), 62, 74},
      {"2", all.drawn({"Great Stopped Diapason 8"}), {}, 62, 74}};
  return advise::measure_plan({&all.organ, &all.church, &all.powers, 120, "Evening"}, passes);
}

std::string scratch(const std::string& name, const std::string& text) {
  const std::string path = ::testing::TempDir() + std::to_string(::getpid()) + "loftbeat-" + name;
  EXPECT_TRUE(write_file(path, text).ok());
  return path;
}

int python(const std::string& script, const std::string& arguments) {
  const std::string path = kSource + "/tests/reference/report/" + script;
  return std::system(("python3 '" + path + "' " + arguments).c_str());
}

int validate(const std::string& json, const std::string& name) {
  return python("validate.py", "'" + kSchema + "' '" + scratch(name + ".json", json) + "'");
}

TEST(Measures, KeepTheirSchema) {
  if (!testing::is_there("python3 -c 'import jsonschema'", "python3-jsonschema")) GTEST_SKIP();
  const std::string json = format_measures_json(sample());
  EXPECT_EQ(validate(json, "measures"), 0);
  std::string other = json;
  other.replace(other.find("\"people\""), 8, "\"peeple\"");
  EXPECT_NE(validate(other, "measures-wrong"), 0) << "the schema must be able to refuse";
}

TEST(Measures, PageIsWellFormedClosedAndTellsEveryDrawingInWords) {
  if (!testing::is_there("python3 --version", "python3")) GTEST_SKIP();
  advise::PlanMeasures measures = sample();
  EXPECT_EQ(python("page_facts.py", "'" + scratch("m.html", format_measures_page(measures)) + "'"),
            0);
  const std::string evil =
      "</svg><script>alert(1)</script><img src=//x.example/a onerror='x'>\x01\xFF";
  measures.title = measures.church = measures.organ.name = evil;
  for (auto& division : measures.organ.divisions) division.name = evil;
  for (auto& stop : measures.organ.stops) stop.name = evil;
  for (auto& coupler : measures.organ.couplers) coupler.name = evil;
  for (auto& pass : measures.passes) pass.label = evil;
  EXPECT_EQ(python("page_facts.py", "'" + scratch("e.html", format_measures_page(measures)) + "'"),
            0);
  EXPECT_EQ(measure_text(measures, {}).find('\x01'), std::string::npos);
}

}  // namespace
}  // namespace loftbeat::report
