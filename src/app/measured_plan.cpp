#include "app/measured_plan.h"

#include <algorithm>
#include <map>
#include <utility>
#include <vector>

#include "advise/advise.h"
#include "voice/voice.h"

namespace loftbeat::app {
namespace {

// The keys of a performance as spans of time.
std::vector<advise::KeySpan> key_spans(const voice::Performance& performance) {
  std::map<std::pair<std::size_t, int>, std::int64_t> down;
  std::vector<advise::KeySpan> spans;
  for (const voice::rt::Event& event : performance.events) {
    const std::pair key(std::size_t{event.division}, int{event.index});
    if (event.act == voice::rt::Act::key_down) down[key] = event.frame;
    if (event.act != voice::rt::Act::key_up) continue;
    const auto struck = down.find(key);
    if (struck == down.end()) continue;
    spans.push_back({voice::seconds_from_frames(struck->second),
                     voice::seconds_from_frames(event.frame),
                     {key.first, key.second}});
    down.erase(struck);
  }
  return spans;
}

// The tune's lowest and highest note, where the pass has it; the people sing it.
void take_compass(const plan::RoutePass& pass, const music::Score& score,
                  advise::PlayedPass& played) {
  int lowest = 127;
  int highest = 0;
  for (const music::Note& note : score.notes) {
    const bool in_pass =
        std::any_of(pass.spans.begin(), pass.spans.end(),
                    [&](const TickSpan& span) { return span.contains(note.onset); });
    if (note.voice != 0 || !in_pass) continue;
    lowest = std::min(lowest, note.pitch + pass.transpose_semitones);
    highest = std::max(highest, note.pitch + pass.transpose_semitones);
  }
  if (lowest > highest) return;  // nothing written; the default stands
  played.lowest_tune_note = lowest;
  played.highest_tune_note = highest;
}

// Each pass by itself, so that its time and its silences are its own.
std::vector<advise::PlayedPass> played_passes(const PlannedSound& planned, const SoundData& data) {
  std::vector<advise::PlayedPass> passes;
  for (std::size_t i = 0; i < planned.route.passes.size(); ++i) {
    plan::Route alone = planned.route;
    alone.passes = {planned.route.passes[i]};
    alone.joins.clear();
    voice::ScoreOrder order;
    order.plan = &planned.plan;
    order.score = &planned.score;
    order.route = &alone;
    order.organ = &data.organ;
    order.registrations = {planned.registrations[i]};
    order.tempo_bpm = planned.tempo_bpm;
    advise::PlayedPass played;
    played.label = alone.passes.front().label;
    played.drawn = organ::with_crescendo(data.organ, planned.registrations[i]);
    played.keys = key_spans(voice::perform(order));
    take_compass(alone.passes.front(), planned.score, played);
    passes.push_back(std::move(played));
  }
  return passes;
}

}  // namespace

Result<advise::PlanMeasures> measures_of(const PlannedSound& planned, const SoundData& data) {
  const pipes::RankPowers ranks(data.recipes);
  const auto powers = advise::StopPowers::make(data.organ, data.recipes, ranks);
  if (!powers) return powers.error();
  advise::PlanQuestion question;
  question.organ = &data.organ;
  question.church = &*data.church;
  question.powers = &*powers;
  question.people = data.people;
  question.title = planned.plan.title.empty() ? planned.score.title : planned.plan.title;
  if (question.title.empty()) question.title = "Untitled hymn";
  return advise::measure_plan(question, played_passes(planned, data));
}

}  // namespace loftbeat::app
