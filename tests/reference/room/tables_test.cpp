// Source: absorption.csv (handbook coefficients, source per row) and speech_spectrum.csv
// (ANSI S3.5-1997, table 3; its overall levels 62.35, 68.34, 74.85, 82.30 dB).

#include <gtest/gtest.h>

#include "../hearing/csv_table.h"
#include "room/room.h"

namespace loftbeat::room {
namespace {

TEST(Materials, AreTheTable) {
  const auto table = CsvTable::read("tests/reference/room/absorption.csv");
  const char* const columns[] = {"f125", "f250", "f500", "f1000", "f2000", "f4000", "f8000"};
  ASSERT_EQ(table.rows(), materials().size());
  for (std::size_t row = 0; row < table.rows(); ++row) {
    const Material& material = materials()[row];
    EXPECT_EQ(material.kind == AbsorptionKind::per_person,
              table.text(row, "kind") == "m2_per_person");
    for (std::size_t i = 0; i < kPublishedOctaves; ++i) {
      if (!table.given(row, columns[i])) {
        EXPECT_EQ(material.absorption[i], kNotGiven) << material.id;
      } else {
        EXPECT_DOUBLE_EQ(material.absorption[i], table.number(row, columns[i])) << material.id;
      }
    }
    EXPECT_FALSE(material.source.empty());
    EXPECT_EQ(find_material(material.id), &material);
  }
}

TEST(Voice, IsTheStandardsSpectrum) {
  const auto table = CsvTable::read("tests/reference/room/speech_spectrum.csv");
  const std::pair<Effort, const char*> efforts[] = {{Effort::normal, "band_level_normal"},
                                                    {Effort::raised, "band_level_raised"},
                                                    {Effort::loud, "band_level_loud"},
                                                    {Effort::shout, "band_level_shout"}};
  for (const auto& [effort, column] : efforts) {
    ASSERT_EQ(table.rows() + 10, kBandCount);
    for (std::size_t row = 0; row < table.rows(); ++row) {
      EXPECT_DOUBLE_EQ(voice_at_1_m(effort)[row + 8], table.number(row, column));
    }
  }
}

TEST(Voice, SumsToTheOverallLevelsOfTheStandard) {
  const std::pair<Effort, double> efforts[] = {{Effort::normal, 62.35},
                                               {Effort::raised, 68.34},
                                               {Effort::loud, 74.85},
                                               {Effort::shout, 82.30}};
  for (const auto& [effort, overall] : efforts) {
    BandLevels published = voice_at_1_m(effort);
    for (std::size_t i = 0; i < kBandCount; ++i) {
      if (extrapolated_voice()[i]) published[i] = hearing::kSilenceDb;
    }
    EXPECT_NEAR(hearing::total_level(published), overall, 0.1);
    // What we add outside the published bands is next to nothing.
    EXPECT_NEAR(hearing::total_level(voice_at_1_m(effort)), overall, 0.5);
  }
}

}  // namespace
}  // namespace loftbeat::room
