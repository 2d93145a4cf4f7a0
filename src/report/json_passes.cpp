#include "plan/read.h"
#include "report/json_parts.h"
#include "report/words.h"

namespace loftbeat::report {
namespace {

void write_textures(JsonWriter& json, std::string_view name,
                    const std::vector<plan::Texture>& textures) {
  json.key(name);
  json.begin_array();
  for (const plan::Texture texture : textures) json.text(plan::to_string(texture));
  json.end_array();
}

void write_planned_texture(JsonWriter& json, const practice::Review& review, int route_pass) {
  if (route_pass < 0) {
    return json.unknown("planned_texture", "this pass is not in the plan");
  }
  write_textures(json, "planned_texture",
                 review.route.passes.at(static_cast<std::size_t>(route_pass)).textures);
}

void write_spans(JsonWriter& json, const follow::AlignedPass& pass) {
  json.key("spans");
  json.begin_array();
  for (const TickSpan& span : pass.spans) {
    json.begin_object();
    json.quarters("begin_quarter", span.begin);
    json.quarters("end_quarter", span.end);
    json.end_object();
  }
  json.end_array();
}

void write_aligned(JsonWriter& json, const practice::Review& review,
                   const follow::AlignedPass& pass) {
  json.text("label", pass.label);
  json.text("kind", pass_kind_name(pass.kind));
  json.integer("run", pass.run);
  json.boolean("planned", pass.route_pass >= 0);
  write_textures(json, "texture", pass.textures);
  write_planned_texture(json, review, pass.route_pass);
  json.integer("transpose_semitones", pass.transpose_semitones);
  json.boolean("complete", pass.complete);
  json.figure("quarters_covered", pass.quarters_covered);
  write_spans(json, pass);
  json.seconds("first_onset_s", pass.first_onset);
  json.seconds("last_onset_s", pass.last_onset);
  json.seconds("last_release_s", pass.last_release);
  json.seconds("last_sound_s", pass.last_sound);
}

void write_beat(JsonWriter& json, const timing::Beat& beat) {
  json.begin_object();
  json.quarters("quarter", beat.tick);
  write_bar(json, beat.bar);
  json.figure("beat", beat.beat);
  json.boolean("struck", beat.struck);
  write_figures(json, kBeatFigures, beat);
  if (beat.struck) {
    json.figure("pulse_ms", beat.pulse_ms);
  } else {
    json.unknown("pulse_ms", "nothing is struck on this beat");
  }
  json.end_object();
}

void write_beats(JsonWriter& json, const std::vector<timing::Beat>& beats) {
  json.key("beats");
  json.begin_array(JsonWriter::Layout::one_item_a_line);
  for (const timing::Beat& beat : beats) write_beat(json, beat);
  json.end_array();
}

void write_lag(JsonWriter& json, std::string_view name, const Measured<timing::LagMs>& lag) {
  if (!lag) return json.unknown(name, lag.reason);
  json.key(name);
  json.begin_object();
  json.figure("median", lag->median_ms);
  json.figure("spread", lag->spread_ms);
  json.integer("count", lag->count);
  json.end_object();
}

template <typename Place>
void write_place(JsonWriter& json, const Place& place) {
  json.quarters("quarter", place.at);
  write_bar(json, place.bar);
}

void write_breaths(JsonWriter& json, const std::vector<timing::Breath>& breaths) {
  json.key("breaths");
  json.begin_array();
  for (const timing::Breath& breath : breaths) {
    json.begin_object();
    write_place(json, breath);
    json.figure("beat", breath.beat);
    json.figure("extra_beats", breath.extra_beats);
    json.end_object();
  }
  json.end_array();
}

void write_hesitations(JsonWriter& json, const std::vector<timing::Hesitation>& hesitations) {
  json.key("hesitations");
  json.begin_array();
  for (const timing::Hesitation& hesitation : hesitations) {
    json.begin_object();
    write_place(json, hesitation);
    json.figure("beat", hesitation.beat);
    json.figure("extra_beats", hesitation.extra_beats);
    json.figure("extra_ms", hesitation.extra_ms);
    json.end_object();
  }
  json.end_array();
}

void write_fermatas(JsonWriter& json, const std::vector<timing::FermataPlayed>& fermatas) {
  json.key("fermatas");
  json.begin_array();
  for (const timing::FermataPlayed& fermata : fermatas) {
    json.begin_object();
    write_place(json, fermata);
    json.text("planned", fermata_name(fermata.planned));
    json.figure("planned_extra_beats", fermata.planned_extra_beats);
    json.figure("extra_beats", fermata.extra_beats);
    json.end_object();
  }
  json.end_array();
}

void write_releases(JsonWriter& json, const timing::Releases& releases) {
  json.key("releases");
  json.begin_object();
  json.integer("notes", releases.notes);
  json.integer("smears", releases.smears);
  write_figures(json, kReleaseFigures, releases);
  json.key("smear_quarters");
  json.begin_array();
  for (const Tick at : releases.smear_at) json.number(quarters(at));
  json.end_array();
  json.integer("repeats", releases.repeats);
  json.integer("repeats_unstruck", releases.repeats_unstruck);
  json.end_object();
}

void write_restarts(JsonWriter& json, const std::vector<follow::Restart>& restarts) {
  json.key("restarts");
  json.begin_array();
  for (const follow::Restart& restart : restarts) {
    if (restart.planned) continue;
    json.begin_object();
    json.quarters("from_quarter", restart.from);
    json.quarters("to_quarter", restart.to);
    json.seconds("at_s", restart.at);
    json.seconds("lost_s", restart.lost);
    json.boolean("false_start", restart.false_start);
    json.end_object();
  }
  json.end_array();
}

void write_omissions(JsonWriter& json, const std::vector<follow::Omission>& omissions) {
  json.key("omissions");
  json.begin_array();
  for (const follow::Omission& omission : omissions) {
    json.begin_object();
    json.quarters("begin_quarter", omission.left_out.begin);
    json.quarters("end_quarter", omission.left_out.end);
    json.seconds("at_s", omission.at);
    json.end_object();
  }
  json.end_array();
}

void write_corrections(JsonWriter& json, const std::vector<follow::Correction>& corrections) {
  json.key("corrections");
  json.begin_array();
  for (const follow::Correction& correction : corrections) {
    json.begin_object();
    json.quarters("quarter", correction.tick);
    json.integer("wrong_pitch", correction.wrong_pitch);
    json.integer("right_pitch", correction.right_pitch);
    json.seconds("at_s", correction.at);
    json.figure("cost_ms", milliseconds(correction.cost));
    json.end_object();
  }
  json.end_array();
}

void write_pass(JsonWriter& json, const practice::Review& review,
                const timing::PassMeasures& measures) {
  const follow::AlignedPass& pass =
      review.alignment.passes.at(static_cast<std::size_t>(measures.pass));
  json.begin_object();
  write_aligned(json, review, pass);
  write_figures(json, kPassFigures, measures);
  write_lag(json, "pedal_lag_ms", measures.pedal_lag);
  json.text("feet", feet_name(measures.feet));
  write_lag(json, "left_hand_lag_ms", measures.left_hand_lag);
  write_breaths(json, measures.breaths);
  write_hesitations(json, measures.hesitations);
  write_fermatas(json, measures.fermatas);
  write_releases(json, measures.releases);
  write_restarts(json, pass.restarts);
  write_omissions(json, pass.omissions);
  write_corrections(json, pass.corrections);
  write_beats(json, measures.beats);
  json.end_object();
}

}  // namespace

void write_passes(JsonWriter& json, const practice::Review& review) {
  json.key("passes");
  json.begin_array(JsonWriter::Layout::one_item_a_line);
  for (const timing::PassMeasures& measures : review.timing.passes) {
    write_pass(json, review, measures);
  }
  json.end_array();
}

}  // namespace loftbeat::report
