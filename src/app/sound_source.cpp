#include "app/sound_source.h"

#include <algorithm>
#include <string_view>
#include <utility>
#include <vector>

#include "app/endings.h"
#include "app/take_stops.h"
#include "base/nearest.h"
#include "music/read.h"
#include "plan/registration.h"
#include "plan/route.h"
#include "take/smf_take.h"
#include "voice/voice.h"

namespace loftbeat::app {

double tempo_meant(const plan::Plan& plan, const music::Score& score) {
  if (plan.tempo_bpm > 0) return plan.tempo_bpm;
  constexpr double kUsual = 84;  // quarters (common practice, no source)
  const double quarters = score.tempi.empty() ? kUsual : score.tempi.front().quarters_per_minute;
  return quarters * static_cast<double>(kTicksPerQuarter) / static_cast<double>(ticks(plan.beat));
}

plan::Plan settled_plan(plan::Plan plan, const music::Score& score) {
  if (!plan.verses) plan.verses = std::max(1, score.lyric_verses);
  if (plan.play_over.kind == plan::PlayOverKind::automatic)
    plan.play_over.kind = plan::PlayOverKind::whole;
  return plan;
}

namespace {

std::vector<std::string> names_from(std::string_view list) {
  std::vector<std::string> names;
  while (!list.empty()) {
    const std::size_t comma = list.find(',');
    std::string_view name = list.substr(0, comma);
    const std::size_t begin = name.find_first_not_of(" \t");
    const std::size_t end = name.find_last_not_of(" \t");
    if (begin != std::string_view::npos) names.emplace_back(name.substr(begin, end - begin + 1));
    list.remove_prefix(comma == std::string_view::npos ? list.size() : comma + 1);
  }
  return names;
}

Result<organ::Registration> single_registration(const SoundOrder& order, const SoundData& data) {
  return registration_for(order, data,
                          data.plan ? data.plan->registration : plan::RegistrationPlan{});
}

Status keep_pass(plan::Route& route, std::vector<organ::Registration>& registrations,
                 const std::string& label) {
  std::vector<std::string> known;
  for (std::size_t i = 0; i < route.passes.size(); ++i) {
    known.push_back(route.passes[i].label);
    if (route.passes[i].label != label) continue;
    route.passes = {plan::RoutePass(route.passes[i])};
    registrations = {organ::Registration(registrations[i])};
    route.joins.clear();
    return {};
  }
  return wrong_use("the plan has no pass \"" + label + "\".", nearest_hint(label, known));
}

Status keep_phrase(plan::Route& route, std::vector<organ::Registration>& registrations,
                   int phrase) {
  if (static_cast<std::size_t>(phrase) > route.phrases.size())
    return wrong_use("the tune has no phrase " + std::to_string(phrase) + "; it has " +
                         std::to_string(route.phrases.size()) + ".",
                     "");
  const auto written =
      std::find_if(route.passes.begin(), route.passes.end(), [](const plan::RoutePass& pass) {
        return !pass.spans.empty() && !pass.unaccompanied && pass.kind == plan::PassKind::verse;
      });
  const std::size_t index =
      written == route.passes.end() ? 0 : static_cast<std::size_t>(written - route.passes.begin());
  plan::RoutePass pass = route.passes[index];
  pass.spans = {route.phrases[static_cast<std::size_t>(phrase) - 1].span};
  pass.broaden_from.reset();
  route.passes = {std::move(pass)};
  registrations = {organ::Registration(registrations[index])};
  route.joins.clear();
  return {};
}

double tempo_of(const SoundOrder& order, const plan::Plan& plan, const music::Score& score) {
  return order.tempo ? *order.tempo : tempo_meant(plan, score);
}

Result<SoundSource> from_plan(const SoundOrder& order, const SoundData& data) {
  Result<PlannedSound> planned = planned_sound(order, data);
  if (!planned) return planned.error();
  voice::ScoreOrder score_order;
  score_order.plan = &planned->plan;
  score_order.score = &planned->score;
  score_order.route = &planned->route;
  score_order.organ = &data.organ;
  score_order.registrations = planned->registrations;
  score_order.tempo_bpm = planned->tempo_bpm;
  SoundSource source;
  source.performance = voice::perform(score_order);
  if (order.loop_phrase) source.loop_frames = source.performance.frames;
  return source;
}

Result<SoundSource> from_take(const SoundOrder& order, const SoundData& data) {
  const Result<take::Take> take = take::read_take(order.take_path);
  if (!take) return take.error();
  Result<voice::Performance> performance = sound_of_take(order, data, *take);
  if (!performance) return performance.error();
  return SoundSource{voice::at_speed(std::move(*performance), order.speed_percent / 100), 0};
}

Result<SoundSource> from_chord(const SoundOrder& order, const SoundData& data) {
  const Result<organ::Registration> drawn = single_registration(order, data);
  if (!drawn) return drawn.error();
  int hands = -1;
  if (!order.manual.empty()) {
    const Result<std::size_t> division = organ::find_division(data.organ, order.manual);
    if (!division) return division.error();
    hands = static_cast<int>(*division);
  }
  Result<voice::Performance> performance =
      voice::perform_chord(data.organ, *drawn, order.chord, order.chord_seconds, hands);
  if (!performance) return performance.error();
  return SoundSource{std::move(*performance), 0};
}

Result<std::int64_t> start_frame(const SoundOrder& order, const voice::Performance& performance) {
  if (order.from_seconds) {
    const std::int64_t frame = voice::frames_from_seconds(*order.from_seconds);
    if (frame < performance.frames) return frame;
    return wrong_use(
        "--from lies behind the end.",
        "It lasts " + std::to_string(performance.frames / voice::rt::kSampleRate) + " seconds.");
  }
  if (order.from_bar.empty()) return std::int64_t{0};
  for (const voice::Mark& mark : performance.marks)
    if (mark.bar == order.from_bar) return mark.frame;
  return wrong_use("there is no bar " + order.from_bar + " in what is played.",
                   "Bars are named as printed; the upbeat's is 0.");
}

bool draws_something(const voice::Performance& performance) {
  return std::any_of(
      performance.events.begin(), performance.events.end(),
      [](const voice::rt::Event& event) { return event.act == voice::rt::Act::draw_stop; });
}

}  // namespace

Result<organ::Registration> registration_for(const SoundOrder& order, const SoundData& data,
                                             plan::RegistrationPlan names) {
  if (!order.stops.empty()) {
    names.stops = names_from(order.stops);
    names.couplers = std::vector<std::string>{};
    names.tremulants = std::vector<std::string>{};
  }
  if (!order.couplers.empty()) names.couplers = names_from(order.couplers);
  if (order.swell) {
    names.swell = order.swell;
    names.swell_of.reset();
  }
  // Names from the command line stand on no line of the plan.
  const bool from_plan = data.plan && order.stops.empty() && order.couplers.empty();
  if (!from_plan) names.lines = {};
  return organ::resolve(data.organ, names, from_plan ? data.plan->file : "");
}

Result<PlannedSound> planned_sound(const SoundOrder& order, const SoundData& data) {
  Result<music::ReadScore> read = music::read_score(data.plan->score_path);
  if (!read) return read.error();
  PlannedSound planned;
  planned.score = std::move(read->score);
  planned.plan = settled_plan(*data.plan, planned.score);
  Result<plan::Route> route = plan::make_route(planned.plan, planned.score);
  if (!route) return route.error();
  planned.route = std::move(*route);
  for (const plan::RoutePass& pass : planned.route.passes) {
    Result<organ::Registration> drawn =
        registration_for(order, data, plan::registration_of(planned.plan, pass));
    if (!drawn) return drawn.error();
    planned.registrations.push_back(std::move(*drawn));
  }
  Status status;
  if (!order.pass.empty()) status = keep_pass(planned.route, planned.registrations, order.pass);
  if (status && order.loop_phrase) {
    status = keep_phrase(planned.route, planned.registrations, *order.loop_phrase);
  }
  if (!status) return status.error();
  planned.tempo_bpm = tempo_of(order, planned.plan, planned.score);
  return planned;
}

Result<SoundSource> sound_source(const SoundOrder& order, const SoundData& data) {
  Result<SoundSource> source = !order.take_path.empty() ? from_take(order, data)
                               : !order.chord.empty()   ? from_chord(order, data)
                                                        : from_plan(order, data);
  if (!source) return source;
  if (!order.changes_path.empty()) {
    Result<std::vector<voice::StopChange>> changes =
        voice::read_stop_changes(order.changes_path, data.organ);
    if (!changes) return changes.error();
    source->performance = voice::with_changes(source->performance, data.organ, std::move(*changes));
  }
  if (!draws_something(source->performance))
    return wrong_use("no stop is drawn, so nothing would sound.",
                     "Name some with --stops, or with stops = [...] in the plan.");
  const Result<std::int64_t> start = start_frame(order, source->performance);
  if (!start) return start.error();
  if (*start > 0) source->performance = voice::from_frame(source->performance, *start);
  return source;
}

}  // namespace loftbeat::app
