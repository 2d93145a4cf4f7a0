#include "crowd/congregation.h"

#include <algorithm>
#include <cmath>

namespace loftbeat::crowd {
namespace {

std::int64_t frames_in(Nanoseconds span) {
  return static_cast<std::int64_t>(std::llround(seconds(span) * rt::kSampleRate));
}

}  // namespace

Result<std::unique_ptr<Congregation>> Congregation::prepare(const music::Score& score,
                                                            const plan::Route& route,
                                                            plan::BeatUnit beat,
                                                            const CongregationOrder& order) {
  const Manners& manners = order.manners;
  const auto wrong = [](const char* message) { return Error{ErrorKind::wrong_use, message}; };
  if (manners.people < 1 || manners.people > 2000)
    return wrong("a congregation has 1 to 2000 people");
  if (!(manners.reluctance >= 0 && manners.reluctance <= 0.08))
    return wrong("reluctance is 0 to 8 %");
  if (!(manners.metres >= 0 && manners.metres <= 100))
    return wrong("people sit 0 to 100 m from the organ");
  if (score.notes.empty()) return wrong("there is no tune to sing");
  return std::unique_ptr<Congregation>(new Congregation(score, route, beat, order));
}

Congregation::Congregation(const music::Score& score, const plan::Route& route, plan::BeatUnit beat,
                           const CongregationOrder& order)
    : route_(route),
      people_(score, route, beat, order.manners, order.seed),
      touch_(score),
      choir_(make_choir({order.manners.people, order.effort, order.seed})) {
  record_.people = order.manners.people;
  record_.reluctance = order.manners.reluctance;
  record_.metres = order.manners.metres;
  record_.seed = order.seed;
  record_.beat_ticks = plan::ticks(beat);
  record_.beats.reserve(4096);
  sung_.reserve(4096);
}

void Congregation::set_clock(Instant at, std::int64_t frame) {
  clocked_ = true;
  clock_at_ = at;
  clock_frame_ = frame;
}

std::int64_t Congregation::frame_of(Instant at) const {
  return clock_frame_ + frames_in(at - clock_at_);
}

void Congregation::key_down(Instant at, int pitch, const follow::LivePosition& player) {
  const auto pass = static_cast<std::size_t>(std::max(player.route_pass, 0));
  const bool planned = player.route_pass >= 0 && pass < route_.passes.size();
  touch_.key_down(at, pitch, player, planned ? route_.passes[pass].transpose_semitones : 0);
  advance(at, player);
}

void Congregation::key_up(Instant at, int pitch) {
  if (const auto touch = touch_.key_up(at, pitch)) people_.touched(*touch);
}

void Congregation::advance(Instant now, const follow::LivePosition& player) {
  people_.advance(now, player);
  pass_on();
}

void Congregation::pass_on() {
  const std::vector<CrowdBeat>& beats = people_.beats();
  for (; beats_seen_ < beats.size(); ++beats_seen_)
    if (singing_ == Singing::on) record_.beats.push_back(beats[beats_seen_]);
  for (const SungEvent& event : people_.take_events()) {
    const bool note = event.what == SungEvent::What::note;
    if (singing_ == Singing::off && note) continue;
    sung_.push_back(event);
    // A full queue refuses and counts; the next note puts it right.
    if (clocked_)
      static_cast<void>(
          choir_.post({frame_of(event.heard), note ? rt::Sing::note : rt::Sing::silence,
                       static_cast<std::uint8_t>(event.pitch), 0}));
  }
}

void Congregation::set_singing(Singing singing) {
  // Silence reaches the voices before the switch, and those who come back wait for a phrase.
  people_.hush();
  pass_on();
  singing_ = singing;
}

People::State Congregation::state() const {
  People::State state = people_.state();
  if (singing_ == Singing::off) state.singing = state.waiting = false;
  return state;
}

void Congregation::set_volume_db(double volume_db) {
  static_cast<void>(choir_.post({0, rt::Sing::volume, 0, static_cast<float>(volume_db)}));
}

}  // namespace loftbeat::crowd
