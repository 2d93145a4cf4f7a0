#include "report/hymns_text.h"
#include "report/json_writer.h"

namespace loftbeat::report {
namespace {

using practice::Hymn;

constexpr int kHymnsVersion = 1;

void text_or_null(JsonWriter& json, std::string_view name, const std::string& text,
                  std::string_view reason) {
  if (text.empty()) {
    json.unknown(name, reason);
  } else {
    json.text(name, text);
  }
}

void write_poetic_metre(JsonWriter& json, const Hymn& hymn) {
  if (hymn.metre_source == practice::MetreSource::none) {
    json.unknown("poetic_metre",
                 "neither stated nor countable: the words or their lines are missing");
    return;
  }
  json.key("poetic_metre");
  json.begin_object();
  json.text("text", music::format_poetic_metre(hymn.poetic_metre));
  json.key("lines");
  json.begin_array();
  for (const int syllables : hymn.poetic_metre.lines) json.integer(syllables);
  json.end_array();
  json.boolean("refrain", hymn.poetic_metre.refrain);
  json.text("source", hymn.metre_source == practice::MetreSource::stated ? "stated" : "counted");
  json.end_object();
}

void write_hymn(JsonWriter& json, const Hymn& hymn) {
  json.begin_object();
  json.text("file", hymn.where);
  text_or_null(json, "title", hymn.title, "the file has none");
  text_or_null(json, "tune", hymn.tune, "the file does not name it");
  text_or_null(json, "first_line", hymn.first_line, "the file has no words");
  write_poetic_metre(json, hymn);
  text_or_null(json, "key", hymn.key_known ? practice::key_words(hymn) : "", "the file has none");
  json.integer("beats", hymn.beats);
  json.integer("beat_type", hymn.beat_type);
  json.boolean("upbeat", hymn.upbeat);
  json.integer("bars", hymn.bars);
  json.integer("phrases", hymn.phrases);
  json.integer("verses", hymn.verses);
  json.integer("lowest_key", hymn.lowest);
  json.integer("highest_key", hymn.highest);
  json.end_object();
}

}  // namespace

std::string format_hymns_json(const HymnsJson& what) {
  JsonWriter json;
  json.begin_object();
  json.integer("loftbeat_hymns", kHymnsVersion);
  json.text("folder", what.library.index.folder);
  json.key("hymns");
  json.begin_array(JsonWriter::Layout::one_item_a_line);
  for (const Hymn* hymn : what.hymns) write_hymn(json, *hymn);
  json.end_array();
  json.key("unread");
  json.begin_array(JsonWriter::Layout::one_item_a_line);
  for (const practice::UnreadHymn* unread : practice::all_unread(what.library.index)) {
    json.begin_object();
    json.text("file", unread->where);
    json.text("reason", unread->reason);
    json.boolean("recorded_playing", unread->playing);
    json.end_object();
  }
  json.end_array();
  if (what.matches != nullptr) {
    json.key("matches");
    json.begin_array(JsonWriter::Layout::one_item_a_line);
    for (const practice::TuneMatch& match : *what.matches) {
      json.begin_object();
      json.text("file", what.hymns[match.tune]->where);
      json.figure("cost", match.cost);
      json.figure("cost_per_note", match.per_note);
      json.integer("semitones_above_score", match.transposed);
      json.integer("line", static_cast<std::int64_t>(match.line) + 1);
      json.end_object();
    }
    json.end_array();
  }
  json.end_object();
  return json.take() + "\n";
}

}  // namespace loftbeat::report
