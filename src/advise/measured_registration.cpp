#include "advise/measured_registration.h"

#include <algorithm>

namespace loftbeat::advise {
namespace {

using plan::Texture;

bool wears(const plan::RoutePass& pass, Texture texture) {
  return std::find(pass.textures.begin(), pass.textures.end(), texture) != pass.textures.end();
}

bool has_stop(const organ::Organ& organ, const organ::Registration& drawn, std::size_t division) {
  return std::any_of(drawn.stops.begin(), drawn.stops.end(),
                     [&](std::size_t stop) { return organ.stops[stop].division == division; });
}

bool sounds(const organ::Organ& organ, const organ::Registration& drawn, std::size_t division) {
  if (has_stop(organ, drawn, division)) return true;
  return std::any_of(drawn.couplers.begin(), drawn.couplers.end(), [&](std::size_t index) {
    const organ::Coupler& coupler = organ.couplers[index];
    return coupler.played_on == division && has_stop(organ, drawn, coupler.sounds);
  });
}

// Puts the notes of one span into hands and feet.
void add_span(const music::Score& score, const plan::RoutePass& pass, TickSpan span,
              double offset_s, double tick_s, PassSound& sound) {
  const bool unison = wears(pass, Texture::unison);
  const bool pedal = score.voices > 1 && !wears(pass, Texture::no_pedal);
  const int tune_up = wears(pass, Texture::tune_up_octave) ? 12 : 0;
  for (const music::Note& note : score.notes) {
    if (!span.contains(note.onset) || (unison && note.voice != 0)) continue;
    const Tick end = std::min(note.onset + note.length, span.end);
    const int key = note.pitch + pass.transpose_semitones + (note.voice == 0 ? tune_up : 0);
    const auto held = [&](int at) {
      return KeySpan{offset_s + static_cast<double>(note.onset - span.begin) * tick_s,
                     offset_s + static_cast<double>(end - span.begin) * tick_s,
                     {0, std::clamp(at, 0, 127)}};
    };
    const bool bass = pedal && !unison && note.voice == score.voices - 1;
    (bass ? sound.feet : sound.hands).push_back(held(key));
    if (unison) sound.hands.push_back(held(key - 12));
    if (unison && pedal) sound.feet.push_back(held(key - 24));
  }
}

}  // namespace

PassSound pass_sound(const music::Score& score, const plan::RoutePass& pass,
                     double quarters_per_minute) {
  PassSound sound;
  int lowest = 127;
  int highest = 0;
  for (const music::Note& note : score.notes) {
    if (note.voice != 0) continue;
    lowest = std::min(lowest, note.pitch + pass.transpose_semitones);
    highest = std::max(highest, note.pitch + pass.transpose_semitones);
  }
  sound.sung = highest > 0 ? hearing::voice_band_of_tune(lowest, highest)
                           : hearing::voice_band_of_tune(60, 72);
  if (pass.unaccompanied) return sound;
  const double tick_s = 60 / quarters_per_minute / static_cast<double>(kTicksPerQuarter);
  double offset_s = 0;
  for (const TickSpan& span : pass.spans) {
    add_span(score, pass, span, offset_s, tick_s, sound);
    offset_s += static_cast<double>(span.length()) * tick_s;
  }
  return sound;
}

PlayingOn playing_on(const organ::Organ& organ, const organ::Registration& by_hand) {
  const organ::Registration drawn = organ::with_crescendo(organ, by_hand);
  PlayingOn on;
  for (std::size_t d = 0; d < organ.divisions.size(); ++d) {
    if (!sounds(organ, drawn, d)) continue;
    const bool pedal = organ.divisions[d].kind == organ::Division::Kind::pedal;
    std::optional<std::size_t>& limb = pedal ? on.feet : on.hands;
    if (!limb) limb = d;
  }
  return on;
}

std::vector<bool> sounding_divisions(const organ::Organ& organ,
                                     const organ::Registration& by_hand) {
  const organ::Registration drawn = organ::with_crescendo(organ, by_hand);
  std::vector<bool> sounding(organ.divisions.size());
  const PlayingOn on = playing_on(organ, drawn);
  if (on.hands) sounding[*on.hands] = true;
  // Without a stop the pedal may still be played: who knows.
  for (std::size_t d = 0; d < sounding.size(); ++d) {
    if (organ.divisions[d].kind == organ::Division::Kind::pedal) sounding[d] = true;
  }
  const std::vector<bool> played = sounding;
  for (const std::size_t index : drawn.couplers) {
    const organ::Coupler& coupler = organ.couplers[index];
    if (played[coupler.played_on]) sounding[coupler.sounds] = true;
  }
  return sounding;
}

PassMeter::Through& PassMeter::through(const organ::Registration& drawn) {
  const PlayingOn on = playing_on(*place_.organ, drawn);
  const std::optional<std::size_t> feet = on.feet ? on.feet : on.hands;
  const auto [found, is_new] = through_.try_emplace(Way{on.hands, feet, drawn.couplers}, Through{});
  if (!is_new) return found->second;
  std::vector<KeySpan> keys;
  keys.reserve(sound_.hands.size() + sound_.feet.size());
  const auto add_keys = [&](const std::vector<KeySpan>& spans, std::optional<std::size_t> where) {
    for (KeySpan span : spans) {
      if (!where || !place_.organ->divisions[*where].has_key(span.pressed.key)) continue;
      span.pressed.division = *where;
      keys.push_back(span);
    }
  };
  add_keys(sound_.hands, on.hands);
  add_keys(sound_.feet, feet);
  found->second.sounding = mean_sounding(*place_.organ, drawn, keys);
  found->second.by_stop.resize(place_.organ->stops.size());
  return found->second;
}

// As registration_power, with the stops' own powers kept.
Power PassMeter::power_of(const organ::Registration& drawn) {
  Through& way = through(drawn);
  const std::vector<Power> gains = box_gains(*place_.organ, drawn);
  Power open;
  open.fill(1);
  Power sum{};
  for (const std::size_t stop : drawn.stops) {
    std::optional<Power>& kept = way.by_stop[stop];
    if (!kept) kept = stop_power(*place_.organ, *place_.powers, stop, way.sounding, open);
    Power power = *kept;
    const Power& gain = gains[place_.organ->stops[stop].division];
    for (std::size_t i = 0; i < power.size(); ++i) power[i] *= gain[i];
    add(sum, power);
  }
  return sum;
}

MeasuredRegistration PassMeter::measure(const organ::Registration& by_hand) {
  const organ::Registration drawn = organ::with_crescendo(*place_.organ, by_hand);
  MeasuredRegistration measured;
  measured.drawn = by_hand;
  const Power power = power_of(drawn);
  measured.silent = std::all_of(power.begin(), power.end(), [](double p) { return p <= 0; });
  measured.heard = heard(*place_.hall, power, sound_.sung);
  return measured;
}

MeasuredRegistration measure_registration(const ListeningPlace& place,
                                          const organ::Registration& drawn,
                                          const PassSound& sound) {
  return PassMeter(place, sound).measure(drawn);
}

}  // namespace loftbeat::advise
