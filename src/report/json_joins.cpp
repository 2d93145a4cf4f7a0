#include "report/json_parts.h"
#include "report/words.h"

namespace loftbeat::report {
namespace {

void write_one_join(JsonWriter& json, const practice::Review& review,
                    const timing::JoinMeasures& join) {
  const auto& passes = review.alignment.passes;
  const JoinEnds ends = join_ends(join);
  json.begin_object();
  json.text("after", passes.at(static_cast<std::size_t>(ends.earlier)).label);
  json.text("before", passes.at(static_cast<std::size_t>(ends.later)).label);
  json.integer("run", join.run);
  json.integer("after_pass", ends.earlier);
  json.integer("before_pass", ends.later);
  json.boolean("after_play_over", join.after_play_over);
  json.boolean("with_interlude", join.with_interlude);
  write_plain(json, kJoinTimes, join);
  if (join.count_error_beats) {
    json.integer("count_error_beats", *join.count_error_beats);
  } else {
    json.unknown("count_error_beats", join.count_error_beats.reason);
  }
  write_figures(json, kJoinFigures, join);
  json.text("verdict", verdict_name(join.verdict));
  if (!join.why.empty()) json.text("why", join.why);
  json.end_object();
}

void write_finding(JsonWriter& json, const practice::Finding& finding) {
  json.begin_object();
  json.text("kind", finding_name(finding.kind));
  if (finding.pass >= 0) {
    json.integer("pass", finding.pass);
  } else {
    json.unknown("pass", "not about one pass");
  }
  if (finding.join >= 0) {
    json.integer("join", finding.join);
  } else {
    json.unknown("join", "not about a join");
  }
  if (finding.bar.empty()) {
    json.unknown("bar", "not about one bar");
  } else {
    write_bar(json, finding.bar);
  }
  json.figure("figure", finding.figure);
  json.text("unit", finding.unit);
  json.figure("severity", finding.severity);
  json.integer("verses_affected", finding.verses_affected);
  json.text("sentence", finding.sentence);
  json.end_object();
}

}  // namespace

void write_joins(JsonWriter& json, const practice::Review& review) {
  json.key("joins");
  json.begin_array(JsonWriter::Layout::one_item_a_line);
  for (const timing::JoinMeasures& join : review.timing.joins) {
    write_one_join(json, review, join);
  }
  json.end_array();
}

void write_play_over(JsonWriter& json, const practice::Review& review) {
  const Measured<timing::PlayOverMeasures>& play_over = review.timing.play_over;
  if (!play_over) return json.unknown("play_over", play_over.reason);
  json.key("play_over");
  json.begin_object();
  json.integer("pass", play_over->pass);
  json.integer("verse_pass", play_over->verse);
  write_figures(json, kPlayOverFigures, *play_over);
  json.end_object();
}

void write_findings(JsonWriter& json, const practice::Review& review) {
  json.key("findings");
  json.begin_array(JsonWriter::Layout::one_item_a_line);
  for (const practice::Finding& finding : review.findings) write_finding(json, finding);
  json.end_array();
  json.key("advice");
  json.begin_array(JsonWriter::Layout::one_item_a_line);
  for (const std::string& sentence : review.advice) json.text(sentence);
  json.end_array();
  json.key("notices");
  json.begin_array(JsonWriter::Layout::one_item_a_line);
  for (const Notice& notice : review.notices) json.text(to_string(notice));
  json.end_array();
}

}  // namespace loftbeat::report
