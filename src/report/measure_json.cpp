#include "report/measure_json.h"

#include "report/json_writer.h"

namespace loftbeat::report {
namespace {

constexpr int kVersion = 1;

using Layout = JsonWriter::Layout;

Measured<double> known(const std::optional<double>& figure, const char* reason) {
  return figure ? Measured<double>(*figure) : Measured<double>::unknown(reason);
}

template <typename Values>
void numbers(JsonWriter& json, std::string_view name, const Values& values) {
  json.key(name);
  json.begin_array();
  for (const double value : values) json.number(value);
  json.end_array();
}

std::string_view side_name(organ::Side side) {
  switch (side) {
    case organ::Side::left: return "left";
    case organ::Side::right: return "right";
    case organ::Side::above: return "above";
    case organ::Side::unknown: break;
  }
  return "unknown";
}

std::string_view swap_name(advise::Swap::Kind kind) {
  switch (kind) {
    case advise::Swap::Kind::string: return "string";
    case advise::Swap::Kind::reed: return "reed";
    case advise::Swap::Kind::flue: break;
  }
  return "flue";
}

std::string stop_name(const organ::Organ& organ, std::size_t stop) {
  return organ::full_name(organ, organ.stops[stop]);
}

void write_drawn(JsonWriter& json, const organ::Organ& organ, const organ::Registration& drawn) {
  const auto names = [&](std::string_view key, const auto& indexes, auto name_of) {
    json.key(key);
    json.begin_array();
    for (const std::size_t i : indexes) json.text(name_of(i));
    json.end_array();
  };
  names("stops", drawn.stops, [&](std::size_t i) { return stop_name(organ, i); });
  names("couplers", drawn.couplers, [&](std::size_t i) { return organ.couplers[i].name; });
  names("tremulants", drawn.tremulants, [&](std::size_t i) { return organ.tremulants[i].name; });
  json.key("swell");
  json.begin_array();
  for (std::size_t d = 0; d < organ.divisions.size(); ++d) {
    if (!organ.divisions[d].box) continue;
    json.begin_object();
    json.text("division", organ.divisions[d].name);
    json.figure("position", drawn.swell[d]);
    json.end_object();
  }
  json.end_array();
}

void write_over_singing(JsonWriter& json, const hearing::OverSinging& over) {
  json.figure("lead_sone", over.lead_sone);
  json.figure("support_sone", over.support_sone);
  json.figure("exposure_sone", over.exposure_sone);
}

void write_heard(JsonWriter& json, std::string_view name, const advise::Heard& heard,
                 const advise::OverTime& time) {
  json.key(name);
  json.begin_object();
  json.figure("level_db", heard.level_db);
  json.figure("level_dba", heard.level_dba);
  json.figure("loudness_sone", heard.sone);
  json.figure("upper_sone", heard.upper_sone);
  json.figure("sharpness_acum", known(heard.sharpness_acum, "nothing is heard"));
  json.figure("centroid_hz", known(heard.centroid_hz, "nothing is heard"));
  json.figure("extrapolated_share", heard.extrapolated_share);
  write_over_singing(json, heard.over);
  json.key("third_octaves_db");
  json.begin_array();
  for (const double level : heard.levels)
    level == hearing::kSilenceDb ? json.null() : json.number(level);
  json.end_array();
  json.key("over_time");
  json.begin_object();
  json.figure("duration_s", time.seconds);
  json.figure("n5_sone", time.n5_sone);
  json.figure("n50_sone", time.n50_sone);
  json.figure("n95_sone", time.n95_sone);
  json.figure("median_sharpness_acum", known(time.median_sharpness_acum, "nothing is heard"));
  json.end_object();
  json.end_object();
}

void write_octaves(JsonWriter& json, const advise::PassMeasure& pass) {
  json.key("octaves");
  json.begin_array(Layout::one_item_a_line);
  for (std::size_t i = 0; i < pass.effect.octaves.size(); ++i) {
    const room::OctaveEffect& octave = pass.effect.octaves[i];
    json.begin_object();
    json.figure("hz", octave.nominal_hz);
    json.figure("absorption_db", octave.absorption_db);
    json.figure("empty_sone", octave.empty_sone);
    json.figure("full_sone", octave.full_sone);
    json.figure("lost_by_absorption_sone", octave.lost_by_absorption_sone());
    json.figure("lost_by_masking_sone", octave.lost_by_masking_sone());
    json.figure("over_singing_sone", octave.over_singing_sone);
    if (pass.upper) {
      json.figure("upper_work_gives_sone", pass.upper->gives_sone[i]);
    } else {
      json.unknown("upper_work_gives_sone", pass.upper.reason);
    }
    json.figure("singing_minus_organ_db", octave.singing_minus_organ_db);
    json.end_object();
  }
  json.end_array();
}

void write_upper(JsonWriter& json, const organ::Organ& organ,
                 const Measured<advise::UpperWork>& upper) {
  if (!upper) return json.unknown("upper_work", upper.reason);
  json.key("upper_work");
  json.begin_object();
  json.key("stops");
  json.begin_array();
  for (const std::size_t stop : upper->stops) json.text(stop_name(organ, stop));
  json.end_array();
  json.figure("lead_with_sone", upper->lead_with_sone);
  json.figure("lead_without_sone", upper->lead_without_sone);
  json.figure("sharpness_with_acum", upper->sharpness_with_acum);
  json.figure("sharpness_without_acum", upper->sharpness_without_acum);
  json.end_object();
}

void write_people(JsonWriter& json, const advise::PassMeasure& pass) {
  json.key("people");
  json.begin_array(Layout::one_item_a_line);
  for (const advise::HeadCount& count : pass.heads) {
    json.begin_object();
    json.integer("people", count.people);
    json.key("with_people");
    json.begin_object();
    write_over_singing(json, count.with_people);
    json.end_object();
    json.key("church_as_empty");
    json.begin_object();
    write_over_singing(json, count.church_as_empty);
    json.end_object();
    json.figure("extrapolated_share", count.extrapolated_share);
    json.end_object();
  }
  json.end_array();
}

void write_change(JsonWriter& json, const advise::Change& change) {
  json.figure("loudness_sone", change.sone);
  json.figure("sharpness_acum", known(change.acum, "nothing is heard before or after"));
  json.figure("lead_sone", change.lead_sone);
  json.figure("support_sone", change.support_sone);
}

void write_single_stops(JsonWriter& json, const organ::Organ& organ,
                        const advise::PassMeasure& pass) {
  json.key("single_stops");
  json.begin_array(Layout::one_item_a_line);
  for (const advise::StopEffect& effect : pass.stop_effects) {
    json.begin_object();
    json.text("stop", stop_name(organ, effect.stop));
    json.text("side", side_name(organ.stops[effect.stop].location.side));
    json.text("move", effect.move == advise::StopEffect::Move::draw ? "draw" : "push-in");
    write_change(json, effect.change);
    json.end_object();
  }
  json.end_array();
  json.key("exchanges_at_8_foot");
  json.begin_array(Layout::one_item_a_line);
  for (const advise::Swap& swap : pass.swaps) {
    json.begin_object();
    json.text("out", stop_name(organ, swap.out));
    json.text("in", stop_name(organ, swap.in));
    json.text("kind", swap_name(swap.kind));
    write_change(json, swap.change);
    json.end_object();
  }
  json.end_array();
}

void write_pass(JsonWriter& json, const organ::Organ& organ, const advise::PassMeasure& pass) {
  json.begin_object();
  json.text("label", pass.label);
  write_drawn(json, organ, pass.drawn);
  if (!pass.silent_because.empty()) {
    json.unknown("measured", pass.silent_because);
    json.end_object();
    return;
  }
  json.key("measured");
  json.begin_object();
  json.figure("sung_lowest_hz", pass.sung.lowest_hz);
  json.figure("sung_highest_hz", pass.sung.highest_hz);
  write_heard(json, "empty", pass.empty, pass.empty_over_time);
  write_heard(json, "full", pass.full, pass.full_over_time);
  write_octaves(json, pass);
  json.figure("over_singing_extrapolated_share", pass.effect.extrapolated_share);
  write_upper(json, organ, pass.upper);
  write_people(json, pass);
  write_single_stops(json, organ, pass);
  json.end_object();
  json.end_object();
}

}  // namespace

std::string format_measures_json(const advise::PlanMeasures& measures) {
  JsonWriter json;
  json.begin_object();
  json.text("format", "loftbeat-measures");
  json.integer("version", kVersion);
  json.text("title", measures.title);
  json.text("organ", measures.organ.name);
  json.text("church", measures.church);
  json.integer("people", measures.people);
  numbers(json, "octaves_hz", room::kOctaveHz);
  numbers(json, "third_octaves_hz", hearing::kNominalHz);
  numbers(json, "reverberation_empty_s", measures.empty_s);
  numbers(json, "reverberation_full_s", measures.full_s);
  numbers(json, "reverberation_empty_eyring_s", measures.empty_eyring_s);
  numbers(json, "reverberation_full_eyring_s", measures.full_eyring_s);
  json.key("passes");
  json.begin_array(Layout::one_item_a_line);
  for (const advise::PassMeasure& pass : measures.passes) write_pass(json, measures.organ, pass);
  json.end_array();
  json.end_object();
  return json.take();
}

}  // namespace loftbeat::report
