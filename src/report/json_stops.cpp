#include "report/json_parts.h"
#include "report/words.h"

namespace loftbeat::report {
namespace {

std::string_view when_name(advise::MoveWhen when) {
  switch (when) {
    case advise::MoveWhen::before: return "before";
    case advise::MoveWhen::after: return "after";
    case advise::MoveWhen::none: break;
  }
  return "none";
}

void write_instant(JsonWriter& json, const char* key, const advise::JudgedMove& move,
                   double seconds) {
  if (move.when == advise::MoveWhen::none) {
    json.unknown(key, "nothing moved");
  } else {
    json.figure(key, seconds);
  }
}

void write_move(JsonWriter& json, const advise::JudgedMove& move) {
  json.begin_object();
  json.integer("join", move.join);
  json.text("when", when_name(move.when));
  write_instant(json, "first_s", move, move.first_s);
  write_instant(json, "last_s", move, move.last_s);
  json.text("controls", move.controls);
  json.figure("after_release_ms", move.after_release_ms);
  json.figure("return_s", move.return_s);
  json.figure("past_entry_ms", move.past_entry_ms);
  if (move.verdict) {
    json.text("verdict", stop_verdict_name(*move.verdict));
  } else {
    json.unknown("verdict", move.verdict.reason);
  }
  json.boolean("fault", move.fault);
  json.end_object();
}

}  // namespace

void write_stop_moves(JsonWriter& json, const practice::Review& review) {
  const advise::StopReview& stops = review.stops;
  if (!stops.known) return json.unknown("stop_moves", stops.reason);
  json.key("stop_moves");
  json.begin_object();
  json.key("moves");
  json.begin_array(JsonWriter::Layout::one_item_a_line);
  for (const advise::JudgedMove& move : stops.moves) write_move(json, move);
  json.end_array();
  json.integer("elsewhere", stops.elsewhere);
  json.integer("joins_with", stops.comparison.joins_with);
  json.integer("joins_without", stops.comparison.joins_without);
  json.figure("median_error_with_ms", stops.comparison.with_ms);
  json.figure("median_error_without_ms", stops.comparison.without_ms);
  json.end_object();
}

}  // namespace loftbeat::report
