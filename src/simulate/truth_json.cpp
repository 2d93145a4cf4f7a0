#include "simulate/truth_json.h"

#include <nlohmann/json.hpp>

#include "plan/read.h"

namespace loftbeat::simulate {
namespace {

using Json = nlohmann::ordered_json;

Json at(Instant instant) { return seconds(instant); }

Json place(Tick tick) { return tick < 0 ? Json(nullptr) : Json(quarters(tick)); }

Json span(const TickSpan& s) { return Json::array({quarters(s.begin), quarters(s.end)}); }

Json onset(const TrueOnset& o) {
  return {{"quarter", quarters(o.tick)},  {"first_s", at(o.first)}, {"median_s", at(o.median)},
          {"intended_s", at(o.intended)}, {"count", o.count},       {"expected", o.expected}};
}

std::string kind_of(plan::PassKind kind) {
  return kind == plan::PassKind::play_over ? "play-over" : "verse";
}

Json pass(const TruePass& p) {
  Json j = {{"label", p.label}, {"kind", kind_of(p.kind)}, {"run", p.run}};
  j["route_pass"] = p.route_pass < 0 ? Json(nullptr) : Json(p.route_pass);
  j["complete"] = p.complete;
  j["spans_quarters"] = Json::array();
  for (const TickSpan& s : p.spans) j["spans_quarters"].push_back(span(s));
  j["covered_quarters"] = span(p.covered);
  j["textures"] = Json::array();
  for (const plan::Texture texture : p.textures) j["textures"].push_back(plan::to_string(texture));
  j["transpose_semitones"] = p.transpose_semitones;
  j["voices"] = p.voices;
  j["tempo_bpm"] = p.tempo_bpm;
  j["first_onset_s"] = at(p.first_onset);
  j["last_onset_s"] = at(p.last_onset);
  j["last_release_s"] = at(p.last_release);
  j["restarts"] = Json::array();
  for (const TrueRestart& r : p.restarts) {
    j["restarts"].push_back({{"from_quarter", quarters(r.from)},
                             {"to_quarter", quarters(r.to)},
                             {"at_s", at(r.at)},
                             {"lost_s", seconds(r.lost)},
                             {"false_start", r.false_start}});
  }
  j["corrections"] = Json::array();
  for (const TrueCorrection& c : p.corrections) {
    j["corrections"].push_back({{"quarter", quarters(c.tick)},
                                {"wrong_pitch", c.wrong_pitch},
                                {"right_pitch", c.right_pitch},
                                {"at_s", at(c.at)},
                                {"cost_beats", c.cost_beats}});
  }
  j["onsets"] = Json::array();
  for (const TrueOnset& o : p.onsets) j["onsets"].push_back(onset(o));
  return j;
}

Json join(const TrueJoin& t) {
  Json j = {{"before", t.before},
            {"after", t.after},
            {"last_onset_s", at(t.last_onset)},
            {"last_release_s", at(t.last_release)},
            {"next_onset_s", at(t.next_onset)},
            {"silence_s", t.silence_s},
            {"beat_s", t.beat_s},
            {"hold_beats", t.hold_beats},
            {"lift_beats", t.lift_beats},
            {"span_beats", t.span_beats}};
  j["planned"] = t.planned ? Json(plan::to_string(*t.planned)) : Json(nullptr);
  j["planned_span_beats"] = t.planned_span_beats ? Json(*t.planned_span_beats) : Json(nullptr);
  j["count_slip_beats"] = t.count_slip_beats;
  j["phase_slip_beats"] = t.phase_slip_beats;
  j["with_interlude"] = t.with_interlude;
  j["over_unaccompanied"] = t.over_unaccompanied;
  return j;
}

Json index_or_null(int index) { return index < 0 ? Json(nullptr) : Json(index); }

Json note(const TrueNote& n, const music::Score& score) {
  Json j = {{"pass", index_or_null(n.pass)}, {"kind", to_string(n.kind)}};
  j["score"] = index_or_null(n.score);
  j["meant"] = index_or_null(n.meant);
  j["quarter"] = n.pass < 0 ? Json(nullptr) : Json(quarters(n.tick));
  j["pitch"] = n.pitch;
  j["score_pitch"] =
      n.score < 0 ? Json(nullptr) : Json(score.notes[static_cast<std::size_t>(n.score)].pitch);
  j["voice"] = index_or_null(n.voice);
  j["channel"] = n.channel;
  j["velocity"] = n.velocity;
  if (n.superseded) j["superseded"] = true;
  if (n.corrected) j["corrected"] = true;
  j["intended_s"] = at(n.intended);
  j["on_s"] = at(n.on);
  j["off_s"] = at(n.off);
  j["stamped_on_s"] = at(n.stamped_on);
  j["stamped_off_s"] = at(n.stamped_off);
  return j;
}

Json absences(const std::vector<TrueAbsence>& list, const music::Score& score) {
  Json all = Json::array();
  for (const TrueAbsence& gone : list) {
    const music::Note& n = score.notes[static_cast<std::size_t>(gone.score)];
    all.push_back({{"pass", gone.pass},
                   {"score", gone.score},
                   {"quarter", quarters(n.onset)},
                   {"pitch", n.pitch}});
  }
  return all;
}

Json fault(const Fault& f) {
  return {{"kind", to_string(f.kind)},
          {"pass", index_or_null(f.pass)},
          {"quarter", place(f.tick)},
          {"amount", f.amount},
          {"share", f.share}};
}

}  // namespace

std::string format_truth(const Truth& truth, const music::Score& score) {
  Json j = {{"format", "loftbeat-truth"}, {"version", 1}};
  for (const char* list : {"passes", "joins", "asides", "stop_moves", "faults", "notes"}) {
    j[list] = Json::array();
  }
  for (const TruePass& p : truth.passes) j["passes"].push_back(pass(p));
  for (const TrueJoin& t : truth.joins) j["joins"].push_back(join(t));
  for (const TrueAside& a : truth.asides) {
    j["asides"].push_back({{"after_pass", index_or_null(a.after_pass)},
                           {"amen", a.amen},
                           {"begin_s", at(a.begin)},
                           {"end_s", at(a.end)},
                           {"notes", a.notes}});
  }
  for (const TrueStopMove& m : truth.stop_moves) {
    j["stop_moves"].push_back({{"join", m.join},
                               {"first_s", at(m.first)},
                               {"last_s", at(m.last)},
                               {"messages", m.messages}});
  }
  for (const Fault& f : truth.faults) j["faults"].push_back(fault(f));
  for (const TrueNote& n : truth.notes) j["notes"].push_back(note(n, score));
  j["missed"] = absences(truth.missed, score);
  j["held"] = absences(truth.held, score);
  return j.dump(2) + "\n";
}

}  // namespace loftbeat::simulate
