#include "simulate/stops.h"

#include <algorithm>

namespace loftbeat::simulate {
namespace {

take::Event message(take::EventKind kind, std::uint8_t channel, int data1, int data2) {
  take::Event event;
  event.kind = kind;
  event.channel = channel;
  event.data1 = static_cast<std::uint8_t>(data1);
  event.data2 = static_cast<std::uint8_t>(data2);
  return event;
}

void space_out(std::vector<take::Event>& events) {
  for (std::size_t i = 0; i < events.size(); ++i) {
    events[i].at = Instant(std::chrono::milliseconds(2 * i));
  }
}

Instant anchor_of(const TrueJoin& join, StopAnchor anchor) {
  switch (anchor) {
    case StopAnchor::last_onset: return join.last_onset;
    case StopAnchor::next_onset: return join.next_onset;
    case StopAnchor::last_release: break;
  }
  return join.last_release;
}

}  // namespace

std::vector<take::Event> piston_messages(std::uint8_t channel, int count) {
  std::vector<take::Event> events;
  for (int i = 0; i < count; ++i) {
    events.push_back(message(take::EventKind::control, channel, 80 + i % 4, i % 2 == 0 ? 127 : 0));
  }
  space_out(events);
  return events;
}

std::vector<take::Event> nrpn_message(std::uint8_t channel, int parameter, int value) {
  std::vector<take::Event> events = {
      message(take::EventKind::control, channel, 99, (parameter >> 7) & 127),
      message(take::EventKind::control, channel, 98, parameter & 127),
      message(take::EventKind::control, channel, 6, value & 127)};
  space_out(events);
  return events;
}

std::vector<take::Event> program_message(std::uint8_t channel, int program) {
  return {message(take::EventKind::program, channel, program & 127, 0)};
}

void move_stops(const Player& player, const std::vector<PlayedAct>& acts, Truth& truth,
                std::vector<Sent>& sent) {
  for (std::size_t j = 0; j < truth.joins.size(); ++j) {
    const TrueJoin& join = truth.joins[j];
    const auto before = std::find_if(acts.begin(), acts.end(), [&](const PlayedAct& played) {
      return played.act.truth_pass == join.before;
    });
    for (const StopMove& move : player.stop_moves) {
      if (move.after_pass != -1 && move.after_pass != before->act.source) continue;
      if (move.messages.empty()) continue;
      const Instant begin = anchor_of(join, move.anchor) + span_from_seconds(move.offset_ms * 1e-3);
      TrueStopMove done{static_cast<int>(j), begin, begin, static_cast<int>(move.messages.size())};
      for (const take::Event& event : move.messages) {
        const Instant at = begin + event.at.time_since_epoch();
        done.last = std::max(done.last, at);
        sent.push_back({seconds(at), event});
      }
      truth.stop_moves.push_back(done);
    }
  }
}

}  // namespace loftbeat::simulate
