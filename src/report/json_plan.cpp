#include "plan/read.h"
#include "report/json_parts.h"
#include "report/words.h"

namespace loftbeat::report {
namespace {

void write_join(JsonWriter& json, std::string_view name, const std::optional<plan::Join>& join,
                std::string_view reason) {
  if (join) return json.text(name, plan::to_string(*join));
  json.unknown(name, reason);
}

void write_play_over_plan(JsonWriter& json, const plan::PlayOver& play_over) {
  json.text("play_over", play_over_name(play_over.kind));
  json.key("play_over_phrases");
  json.begin_array();
  for (const int phrase : play_over.phrases) json.integer(phrase);
  json.end_array();
}

void write_tolerances(JsonWriter& json, const plan::Tolerances& tolerances) {
  json.key("tolerances");
  json.begin_object();
  json.figure("join_ms", tolerances.join_ms);
  json.figure("join_percent", tolerances.join_percent);
  json.figure("tempo_percent", tolerances.tempo_percent);
  json.figure("trend_percent", tolerances.trend_percent);
  json.figure("steadiness_percent", tolerances.steadiness_percent);
  json.figure("hesitation_beats", tolerances.hesitation_beats);
  json.figure("pedal_lag_ms", tolerances.pedal_lag_ms);
  json.figure("smear_ms", tolerances.smear_ms);
  json.end_object();
}

}  // namespace

void write_plan_members(JsonWriter& json, const practice::Review& review) {
  const plan::Plan& plan = review.plan;
  json.figure("tempo_bpm", plan.tempo_bpm);
  json.quarters("beat_quarters", plan::ticks(plan.beat));
  json.text("beat", plan::to_string(plan.beat));
  json.key("planned");
  json.begin_object();
  if (plan.verses) {
    json.integer("verses", *plan.verses);
  } else {
    json.unknown("verses", "the plan leaves the number of verses to the take");
  }
  write_play_over_plan(json, plan.play_over);
  write_join(json, "join", plan.join, "no join is planned: joins are judged for likeness");
  write_join(json, "join_after_play_over", plan.join_after_play_over, "as between verses");
  write_tolerances(json, plan.tolerances);
  json.end_object();
}

void write_score_members(JsonWriter& json, const practice::Review& review) {
  json.quarters("score_quarters", review.score.length);
  json.key("bars");
  json.begin_array();
  for (const music::Bar& bar : review.score.bars) {
    json.begin_object();
    json.quarters("quarter", bar.start);
    json.quarters("quarters", bar.length);
    write_bar(json, bar.number);
    json.integer("beats", bar.beats);
    json.integer("beat_type", bar.beat_type);
    json.end_object();
  }
  json.end_array();
  json.key("phrases");
  json.begin_array();
  for (const music::Phrase& phrase : review.route.phrases) {
    json.begin_object();
    json.quarters("begin_quarter", phrase.span.begin);
    json.quarters("end_quarter", phrase.span.end);
    json.end_object();
  }
  json.end_array();
}

}  // namespace loftbeat::report
