#include "report/json_parts.h"
#include "report/led.h"

namespace loftbeat::report {
namespace {

void write_phrase(JsonWriter& json, const crowd::PhraseLag& phrase) {
  json.begin_object();
  json.integer("phrase", phrase.phrase);
  json.integer("beats", phrase.beats);
  json.figure("lag_ms", phrase.lag_ms);
  json.figure("spread_ms", phrase.spread_ms);
  json.figure("tempo_bpm", phrase.tempo_bpm);
  json.end_object();
}

void write_verse(JsonWriter& json, const crowd::VerseLed& verse) {
  json.begin_object();
  json.integer("pass", verse.pass);
  json.text("label", verse.label);
  json.text("led", led_name(verse.led));
  json.integer("beats", verse.beats);
  json.figure("entry_ms", verse.entry_ms);
  json.figure("lag_ms", verse.lag_ms);
  json.figure("spread_ms", verse.spread_ms);
  json.figure("tempo_bpm", verse.tempo_bpm);
  json.figure("begin_bpm", verse.begin_bpm);
  json.figure("end_bpm", verse.end_bpm);
  json.figure("slowing_percent", verse.slowing_percent);
  json.figure("uncertainty_percent", verse.uncertainty_percent);
  json.key("phrases");
  json.begin_array();
  for (const crowd::PhraseLag& phrase : verse.phrases) write_phrase(json, phrase);
  json.end_array();
  json.end_object();
}

}  // namespace

void write_led(JsonWriter& json, const practice::Review& review) {
  if (!review.led) return json.unknown("who_led", "nobody sang along");
  json.key("who_led");
  json.begin_object();
  json.text("led", led_name(review.led->led));
  json.text("sentence", review.led->sentence);
  json.figure("lag_ms", review.led->lag_ms);
  json.figure("slowing_percent", review.led->slowing_percent);
  json.figure("uncertainty_percent", review.led->uncertainty_percent);
  json.key("verses");
  json.begin_array(JsonWriter::Layout::one_item_a_line);
  for (const crowd::VerseLed& verse : review.led->verses) write_verse(json, verse);
  json.end_array();
  json.end_object();
}

}  // namespace loftbeat::report
