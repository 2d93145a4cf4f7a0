// Source: ISO 9613-1:1993, cells of table 1 as quoted in the open literature (dB/km), to be met
// within 1 %, or within half of the last digit where that is printed with less; and
// air_absorption.csv, computed outside this project.

#include <gtest/gtest.h>

#include <cmath>

#include "../hearing/csv_table.h"
#include "hearing/bands.h"
#include "room/air.h"

namespace loftbeat::room {
namespace {

// The standard's table is for exact mid-bands.
double exact_hz(double nominal) {
  return 1000.0 * std::pow(10.0, std::round(10.0 * std::log10(nominal / 1000.0)) / 10.0);
}

double db_per_km(double celsius, double percent, double nominal_hz) {
  return 1000 * air_attenuation_db_per_m({celsius, percent}, exact_hz(nominal_hz));
}

struct Cell {
  double celsius, percent, hz, db_per_km, step;
};

TEST(Air, QuotedCellsOfTheStandard) {
  const Cell cells[] = {
      {-20, 10, 50, 0.589, 0.001}, {20, 15, 6300, 175, 1},    {10, 70, 1000, 3.66, 0.01},
      {20, 70, 125, 0.3, 0.1},     {20, 70, 500, 2.8, 0.1},   {20, 70, 1000, 5.0, 0.1},
      {20, 70, 2000, 9.0, 0.1},    {20, 70, 4000, 22.9, 0.1}, {20, 70, 8000, 76.6, 0.1},
      {10, 70, 63, 0.1, 0.1},      {10, 70, 125, 0.4, 0.1},   {10, 70, 250, 1.0, 0.1},
      {10, 70, 500, 1.9, 0.1},     {10, 70, 1000, 3.7, 0.1},  {10, 70, 2000, 9.7, 0.1},
      {10, 70, 4000, 32.8, 0.1},   {10, 70, 8000, 117, 1},
  };
  for (const Cell& cell : cells) {
    EXPECT_NEAR(db_per_km(cell.celsius, cell.percent, cell.hz), cell.db_per_km,
                std::max(0.01 * cell.db_per_km, 0.5 * cell.step))
        << cell.celsius << " C " << cell.percent << " % " << cell.hz << " Hz";
  }
}

TEST(Air, IndependentComputation) {
  const auto table = CsvTable::read("tests/reference/room/air_absorption.csv");
  ASSERT_EQ(table.rows(), 9U);
  const struct {
    const char* name;
    Air air;
  } columns[] = {{"20C_50RH", {20, 50}},
                 {"20C_70RH", {20, 70}},
                 {"15C_50RH", {15, 50}},
                 {"10C_50RH", {10, 50}},
                 {"10C_70RH", {10, 70}}};
  for (std::size_t row = 0; row < table.rows(); ++row) {
    const double hz = table.number(row, "exact_Hz");
    for (const auto& column : columns) {
      const double alpha = table.number(row, std::string("alpha_dB_per_km_") + column.name);
      const double m = table.number(row, std::string("m_per_km_") + column.name);
      EXPECT_NEAR(1000 * air_attenuation_db_per_m(column.air, hz), alpha, 0.001 * alpha) << hz;
      EXPECT_NEAR(1000 * air_energy_constant_per_m(column.air, hz), m, 0.001 * m) << hz;
    }
  }
}

}  // namespace
}  // namespace loftbeat::room
