#include "report/measure_tables.h"

#include <algorithm>
#include <map>

#include <fmt/format.h>

#include "report/numbers.h"
#include "report/utf8.h"

namespace loftbeat::report {
namespace {

constexpr NumberStyle kTenths{1, ""};
constexpr NumberStyle kHundredths{2, ""};
constexpr NumberStyle kSignedTenths{1, "", NumberStyle::Sign::always};
constexpr NumberStyle kSignedHundredths{2, "", NumberStyle::Sign::always};

Column named(const char* second) { return {"", second, Column::Side::left}; }

Cell figure(double value, NumberStyle style) { return {write_number(value, style)}; }

Cell figure(const std::optional<double>& value, NumberStyle style) {
  return {value ? write_number(*value, style) : "–"};
}

std::string octave_name(double hz) {
  return hz < 1000 ? write_short(hz, {0, ""}) : write_short(hz / 1000, {0, "k"});
}

std::vector<Column> octave_columns(const char* first) {
  std::vector<Column> columns = {named(first)};
  for (const double hz : room::kOctaveHz) columns.push_back({"", octave_name(hz) + " Hz"});
  return columns;
}

template <typename Figure>
std::vector<Cell> octave_row(const char* name, NumberStyle style, Figure figure_of) {
  std::vector<Cell> row = {{name}};
  for (std::size_t i = 0; i < room::kOctaveCount; ++i) row.push_back(figure(figure_of(i), style));
  return row;
}

std::vector<Cell> silent_row(const advise::PassMeasure& pass, std::size_t columns) {
  std::vector<Cell> row(columns, Cell{"–"});
  row.front() = {measured_pass_name(pass)};
  return row;
}

std::string_view side_words(organ::Side side) {
  switch (side) {
    case organ::Side::left: return "left";
    case organ::Side::right: return "right";
    case organ::Side::above: return "above";
    case organ::Side::unknown: break;
  }
  return "–";
}

}  // namespace

Table measured_passes_table(const advise::PlanMeasures& measures) {
  Table table{{named("pass"),
               {"empty", "dB(A)"},
               {"", "sone"},
               {"", "acum"},
               {"full", "dB(A)"},
               {"", "sone"},
               {"", "acum"},
               {"lead", "sone"},
               {"support", "sone"},
               {"exposure", "sone"}},
              {}};
  for (const advise::PassMeasure& pass : measures.passes) {
    if (!pass.silent_because.empty()) {
      table.rows.push_back(silent_row(pass, table.columns.size()));
      continue;
    }
    std::vector<Cell> row = {{measured_pass_name(pass)}};
    for (const advise::Heard* heard : {&pass.empty, &pass.full}) {
      row.push_back(figure(heard->level_dba, kTenths));
      row.push_back(figure(heard->sone, kTenths));
      row.push_back(figure(heard->sharpness_acum, kHundredths));
    }
    row.push_back(figure(pass.full.over.lead_sone, kTenths));
    row.push_back(figure(pass.full.over.support_sone, kTenths));
    row.push_back(figure(pass.full.over.exposure_sone, kTenths));
    table.rows.push_back(std::move(row));
  }
  return table;
}

Table over_time_table(const advise::PlanMeasures& measures) {
  Table table{{named("pass"),
               {"", "s"},
               {"empty", "N5"},
               {"", "N50"},
               {"", "N95"},
               {"", "acum"},
               {"full", "N5"},
               {"", "N50"},
               {"", "N95"},
               {"", "acum"},
               {"centroid", "Hz, full"}},
              {}};
  for (const advise::PassMeasure& pass : measures.passes) {
    if (!pass.silent_because.empty()) {
      table.rows.push_back(silent_row(pass, table.columns.size()));
      continue;
    }
    std::vector<Cell> row = {{measured_pass_name(pass)},
                             figure(pass.full_over_time.seconds, kWhole)};
    for (const advise::OverTime* time : {&pass.empty_over_time, &pass.full_over_time}) {
      row.push_back(figure(time->n5_sone, kTenths));
      row.push_back(figure(time->n50_sone, kTenths));
      row.push_back(figure(time->n95_sone, kTenths));
      row.push_back(figure(time->median_sharpness_acum, kHundredths));
    }
    row.push_back(figure(pass.full.centroid_hz, kWhole));
    table.rows.push_back(std::move(row));
  }
  return table;
}

Table reverberation_table(const advise::PlanMeasures& measures) {
  return {
      octave_columns("reverberation, s"),
      {octave_row("empty, Sabine", kHundredths, [&](std::size_t i) { return measures.empty_s[i]; }),
       octave_row("full, Sabine", kHundredths, [&](std::size_t i) { return measures.full_s[i]; }),
       octave_row("empty, Eyring", kHundredths,
                  [&](std::size_t i) { return measures.empty_eyring_s[i]; }),
       octave_row("full, Eyring", kHundredths,
                  [&](std::size_t i) { return measures.full_eyring_s[i]; })}};
}

Table octave_table(const advise::PassMeasure& pass) {
  const auto& octaves = pass.effect.octaves;
  Table table{octave_columns("octave"), {}};
  const auto add = [&](const char* name, NumberStyle style, auto figure_of) {
    table.rows.push_back(octave_row(name, style, figure_of));
  };
  add("level, people in, dB", kSignedTenths,
      [&](std::size_t i) { return octaves[i].absorption_db; });
  add("empty, sone", kTenths, [&](std::size_t i) { return octaves[i].empty_sone; });
  add("lost: absorption", kTenths,
      [&](std::size_t i) { return octaves[i].lost_by_absorption_sone(); });
  add("lost: masking", kTenths, [&](std::size_t i) { return octaves[i].lost_by_masking_sone(); });
  add("left over singing", kTenths, [&](std::size_t i) { return octaves[i].over_singing_sone; });
  if (pass.upper) {
    add("of it by upper work", kTenths, [&](std::size_t i) { return pass.upper->gives_sone[i]; });
  }
  return table;
}

Table people_table(const advise::PassMeasure& pass) {
  Table table{{named("people singing")}, {}};
  for (const advise::HeadCount& count : pass.heads) {
    table.columns.push_back({"", std::to_string(count.people)});
  }
  const auto add = [&](const char* name, auto figure_of) {
    std::vector<Cell> row = {{name}};
    for (const advise::HeadCount& count : pass.heads) row.push_back(figure_of(count));
    table.rows.push_back(std::move(row));
  };
  using hearing::OverSinging;
  const auto both = [&](const char* here, const char* masking_alone, double OverSinging::*sone) {
    add(here, [&](const advise::HeadCount& c) { return figure(c.with_people.*sone, kTenths); });
    add(masking_alone,
        [&](const advise::HeadCount& c) { return figure(c.church_as_empty.*sone, kTenths); });
  };
  both("lead, sone", "  by masking alone", &OverSinging::lead_sone);
  both("support, sone", "  by masking alone", &OverSinging::support_sone);
  both("exposure, sone", "  by masking alone", &OverSinging::exposure_sone);
  add("extrapolated", [&](const advise::HeadCount& c) {
    return figure(100 * c.extrapolated_share, {0, " %"});
  });
  return table;
}

Table stop_table(const advise::PlanMeasures& measures, const advise::PassMeasure& pass,
                 std::size_t most) {
  Table table{{named("one stop"),
               {"", "side", Column::Side::left},
               {"sharpness", "acum"},
               {"loudness", "sone"},
               {"lead", "sone"},
               {"support", "sone"}},
              {}};
  for (const organ::Side side :
       {organ::Side::left, organ::Side::right, organ::Side::above, organ::Side::unknown}) {
    std::size_t shown = 0;
    for (const advise::StopEffect& effect : pass.stop_effects) {
      const organ::Stop& stop = measures.organ.stops[effect.stop];
      if (stop.location.side != side || shown == most) continue;
      ++shown;
      const bool draw = effect.move == advise::StopEffect::Move::draw;
      const std::string name = clean_text(organ::full_name(measures.organ, stop));
      table.rows.push_back({{(draw ? "+ " : "− ") + name},
                            {std::string(side_words(side))},
                            figure(effect.change.acum, kSignedHundredths),
                            figure(effect.change.sone, kSignedTenths),
                            figure(effect.change.lead_sone, kSignedTenths),
                            figure(effect.change.support_sone, kSignedTenths)});
    }
  }
  return table;
}

}  // namespace loftbeat::report
