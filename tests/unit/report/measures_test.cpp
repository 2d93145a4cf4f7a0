// The measures' text and drawings on made-up figures.

#include <gtest/gtest.h>

#include <sstream>
#include <string>

#include "report/measure_parts.h"
#include "report/measure_tables.h"
#include "report/report.h"

namespace loftbeat::report {
namespace {

advise::PlanMeasures made_up() {
  advise::PlanMeasures measures;
  const auto organ = organ::parse_organ(
      "name = \"St Example\"\n[[division]]\nname = \"Great\"\n[[division]]\nname = \"Swell\"\n"
      "enclosed = true\n[[stop]]\nname = \"Flute\"\ndivision = \"Great\"\npitch = \"8\"\n"
      "family = \"open-flute\"\nside = \"left\"\n[[stop]]\nname = \"Principal\"\n"
      "division = \"Great\"\npitch = \"4\"\nfamily = \"principal\"\nside = \"right\"\n[[stop]]\n"
      "name = \"Oboe\"\ndivision = \"Swell\"\npitch = \"8\"\nfamily = \"reed\"\nside = \"right\"\n",
      "x");
  EXPECT_TRUE(organ.ok());
  measures.organ = *organ;
  measures.title = "Evening";
  measures.church = "St Example";
  measures.people = 90;
  advise::PassMeasure pass;
  pass.label = "2";
  pass.drawn = organ::empty_registration(measures.organ);
  pass.drawn.stops = {0, 2};
  pass.drawn.swell[1] = 0.4;
  pass.empty.sone = 20;
  pass.empty.sharpness_acum = 1.25;
  pass.full.sone = 15;
  pass.full.sharpness_acum = 1.2;
  pass.full.over.lead_sone = 4.5;
  pass.effect.empty_sone = 20;
  pass.effect.full_sone = 15;
  pass.effect.over_singing_sone = 6;
  for (std::size_t i = 0; i < room::kOctaveCount; ++i) {
    pass.effect.octaves[i] = {room::kOctaveHz[i], -2, 2.5, 1.9, 0.75, 3};
  }
  for (const int people : advise::kPeopleCounts) {
    advise::HeadCount count;
    count.people = people;
    count.with_people.lead_sone = 100.0 / people;
    pass.heads.push_back(count);
  }
  pass.stop_effects = {{1, advise::StopEffect::Move::draw, {3, 0.3, 1, 0.5}},
                       {0, advise::StopEffect::Move::push_in, {-1, -0.1, 0, -0.5}}};
  pass.swaps = {{0, 2, advise::Swap::Kind::reed, {1, 0.5, 1, 0}}};
  measures.passes = {pass, pass};
  measures.passes[1].label = "3";
  measures.passes[1].silent_because = "nothing is played";
  return measures;
}

TEST(MeasureText, KeepsToTheWidthOfTheTerminal) {
  for (const int width : {40, 80, 120}) {
    std::istringstream lines(measure_text(made_up(), {width}));
    for (std::string line; std::getline(lines, line);) {
      EXPECT_LE(display_width(line), static_cast<std::size_t>(width)) << line;
    }
  }
}

// Text as it was before lines were broken.
std::string unbroken(const std::string& text) {
  std::istringstream words(text);
  std::string line;
  for (std::string word; words >> word;) line += (line.empty() ? "" : " ") + word;
  return line;
}

TEST(MeasureText, TellsEveryPassAndWhatIsLost) {
  const std::string text = unbroken(measure_text(made_up(), {}));
  EXPECT_NE(
      text.find("of 20.0 sone in the empty church 5.0 are taken by absorption, 9.0 covered by "
                "the singing"),
      std::string::npos)
      << text;
  EXPECT_NE(text.find("Verse 3: nothing is played."), std::string::npos);
  EXPECT_NE(text.find("Swell box 40 % open"), std::string::npos);
  EXPECT_NE(text.find("+ Great Principal 4"), std::string::npos);
  EXPECT_NE(text.find("− Great Flute 8"), std::string::npos);
}

TEST(MeasureTables, SidesOfTheConsoleStandApart) {
  const advise::PlanMeasures measures = made_up();
  const Table table = stop_table(measures, measures.passes[0], 4);
  ASSERT_EQ(table.rows.size(), 2U);
  EXPECT_EQ(table.rows[0][1].text, "left");
  EXPECT_EQ(table.rows[1][1].text, "right");
  EXPECT_EQ(stop_table(measures, measures.passes[0], 0).rows.size(), 0U);
}

// Everything about heights of one picture's rectangles.
double height_of_all(const std::string& picture, const std::string& look) {
  double sum = 0;
  const std::string sign = "class=\"" + look + "\"";
  const std::string wide = picture.substr(0, picture.find("class=\"narrow\""));
  for (std::size_t at = wide.find(sign); at != std::string::npos; at = wide.find(sign, at + 1)) {
    const std::size_t tag = wide.rfind("<rect", at);
    const std::size_t height = wide.find("height=\"", tag) + 8;
    sum += std::stod(wide.substr(height));
  }
  return sum;
}

TEST(MeasurePictures, LayersAreAsHighAsTheirFigures) {
  const advise::PlanMeasures measures = made_up();
  const std::string picture = octave_picture({measures.passes[0], 0, top_of_octaves(measures)});
  const double left = height_of_all(picture, "chord");
  EXPECT_NEAR(height_of_all(picture, "outline") / left, 2.5 / 0.75, 0.02);
  EXPECT_NEAR(height_of_all(picture, "behind") / left, (1.9 - 0.75) / 0.75, 0.02);
  EXPECT_NEAR(height_of_all(picture, "ahead") / left, (2.5 - 1.9) / 0.75, 0.02);
}

}  // namespace
}  // namespace loftbeat::report
