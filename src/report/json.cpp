#include "report/json.h"

#include <algorithm>
#include <cctype>

#include "report/json_parts.h"
#include "report/words.h"

namespace loftbeat::report {
namespace {

constexpr int kVersion = 1;

void write_heading(JsonWriter& json, const practice::Review& review) {
  json.text("format", "loftbeat-review");
  json.integer("version", kVersion);
  json.text("title", review.plan.title.empty() ? review.score.title : review.plan.title);
  json.text("take", review.take_name);
  json.text("score", review.plan.score_path);
  if (review.plan.file.empty()) {
    json.unknown("plan", "the review was asked for without a plan file");
  } else {
    json.text("plan", review.plan.file);
  }
}

void write_sustain(JsonWriter& json, const practice::Review& review) {
  json.key("sustain");
  json.begin_array();
  for (const take::PedalSpan& span : review.take.sustain) {
    json.begin_object();
    json.seconds("down_s", span.down);
    json.seconds("up_s", span.up);
    json.end_object();
  }
  json.end_array();
}

void write_asides(JsonWriter& json, const practice::Review& review) {
  json.key("asides");
  json.begin_array();
  for (const follow::Aside& aside : review.alignment.asides) {
    json.begin_object();
    if (aside.after_pass >= 0) {
      json.integer("after_pass", aside.after_pass);
    } else {
      json.unknown("after_pass", "before the first pass");
    }
    json.boolean("amen", aside.amen);
    json.seconds("begin_s", aside.begin);
    json.seconds("end_s", aside.end);
    json.integer("notes", aside.notes);
    json.end_object();
  }
  json.end_array();
}

void write_take_members(JsonWriter& json, const practice::Review& review) {
  json.integer("runs", review.runs);
  json.text("label_source", review.alignment.label_source);
  json.figure("matched_share", review.alignment.matched_share);
  json.integer("notes_played", static_cast<std::int64_t>(review.take.notes.size()));
  json.boolean("velocity_varies", review.take.velocity_varies);
  json.figure("stamp_uncertainty_ms", milliseconds(review.take.stamp_uncertainty));
  write_asides(json, review);
  write_sustain(json, review);
}

}  // namespace

void write_bar(JsonWriter& json, const std::string& bar) {
  const bool is_number =
      !bar.empty() && bar.size() <= 9 && (bar == "0" || bar.front() != '0') &&
      std::all_of(bar.begin(), bar.end(), [](char c) { return c >= '0' && c <= '9'; });
  json.key("bar");
  if (is_number) {
    json.integer(std::stoi(bar));
  } else {
    json.text(bar);
  }
}

std::string format_json(const practice::Review& review) {
  JsonWriter json;
  json.begin_object();
  write_heading(json, review);
  write_plan_members(json, review);
  write_score_members(json, review);
  write_take_members(json, review);
  write_findings(json, review);
  write_play_over(json, review);
  write_passes(json, review);
  write_joins(json, review);
  write_stop_moves(json, review);
  write_led(json, review);
  write_notes(json, review);
  json.end_object();
  return json.take();
}

}  // namespace loftbeat::report
