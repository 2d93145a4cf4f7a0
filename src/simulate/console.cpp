#include "simulate/console.h"

#include <algorithm>
#include <cmath>

namespace loftbeat::simulate {
namespace {

constexpr int kCoupledChannel = 3;
constexpr double kMs = 1e-3;

take::Event key_event(take::EventKind kind, int channel, int pitch, int velocity) {
  take::Event event;
  event.kind = kind;
  event.channel = static_cast<std::uint8_t>(channel);
  event.data1 = static_cast<std::uint8_t>(pitch);
  event.data2 = static_cast<std::uint8_t>(velocity);
  return event;
}

void add_key(std::vector<Sent>& sent, const Stroke& stroke, int channel, int note, double late) {
  using take::EventKind;
  sent.push_back({stroke.on + late,
                  key_event(EventKind::note_on, channel, stroke.pitch, stroke.velocity), note});
  sent.push_back(
      {stroke.off + late, key_event(EventKind::note_off, channel, stroke.pitch, 64), note});
}

take::Event sustain_event(int value) {
  take::Event event;
  event.kind = take::EventKind::control;
  event.data1 = 64;
  event.data2 = static_cast<std::uint8_t>(value);
  return event;
}

}  // namespace

int channel_of(const Console& console, Limb limb) {
  if (console.layout == ChannelLayout::one) return 0;
  if (limb == Limb::feet) return 2;
  return limb == Limb::left_hand && console.layout == ChannelLayout::hands_apart ? 1 : 0;
}

void set_velocities(const Stage& stage, const std::vector<PlayedAct>& acts,
                    std::vector<Press>& presses) {
  const Console& console = stage.player.console;
  Random random(stage.seed, "velocity");
  for (Press& press : presses) {
    double velocity = console.velocity;
    if (console.velocity_kind == VelocityKind::varied) {
      velocity += random.human(console.velocity_sd) + (press.stroke.voice == 0 ? 6 : 0);
      velocity *= acts[press.act].act.velocity_factor;
    }
    press.stroke.velocity = static_cast<int>(std::lround(std::clamp(velocity, 1.0, 127.0)));
  }
}

std::vector<Sent> key_messages(const Stage& stage, const std::vector<Press>& presses) {
  Random coupler(stage.seed, "coupler");
  std::vector<Sent> sent;
  for (std::size_t i = 0; i < presses.size(); ++i) {
    const Press& press = presses[i];
    add_key(sent, press.stroke, press.channel, static_cast<int>(i), 0);
    if (stage.player.console.coupled && press.stroke.limb == Limb::right_hand) {
      add_key(sent, press.stroke, kCoupledChannel, -1, kMs * coupler.between(0, 9.5));
    }
  }
  return sent;
}

void add_sustain(const PlayedAct& played, std::vector<Sent>& sent) {
  if (!played.act.sustained) return;
  double last = -1;
  for (const Stroke& stroke : played.strokes) {
    if (stroke.intended < last + 0.3) continue;
    if (last >= 0) sent.push_back({stroke.intended + 0.03, sustain_event(0)});
    sent.push_back({stroke.intended + 0.15, sustain_event(127)});
    last = stroke.intended;
  }
  if (last >= 0)
    sent.push_back({played.times.last_onset_s + 2 * played.times.end_beat_s, sustain_event(0)});
}

take::Take stamp(const Stage& stage, std::vector<Sent> sent, std::vector<TrueNote>& notes) {
  const Console& console = stage.player.console;
  Random random(stage.seed, "stamps");
  std::stable_sort(sent.begin(), sent.end(), [](const Sent& a, const Sent& b) {
    if (a.at_s != b.at_s) return a.at_s < b.at_s;
    return a.event.kind == take::EventKind::note_off && b.event.kind != take::EventKind::note_off;
  });
  take::Take take;
  double latest = 0;
  for (Sent& message : sent) {
    double at = message.at_s * (1 + console.clock_drift_ppm * 1e-6);
    if (console.stamp_jitter_ms > 0) at += kMs * random.between(0, console.stamp_jitter_ms);
    if (console.bunch_ms > 0)
      at = std::ceil(at / (kMs * console.bunch_ms)) * kMs * console.bunch_ms;
    latest = std::max(latest, at);
    message.event.at = instant_from_seconds(latest);
    if (message.note >= 0) {
      TrueNote& note = notes[static_cast<std::size_t>(message.note)];
      const bool on = message.event.kind == take::EventKind::note_on;
      (on ? note.stamped_on : note.stamped_off) = message.event.at;
    }
    take.events.push_back(std::move(message.event));
  }
  return take;
}

}  // namespace loftbeat::simulate
