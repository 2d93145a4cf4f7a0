#include "voice/perform_take.h"

#include <bitset>
#include <string>

namespace loftbeat::voice {
namespace {

using rt::Act;

struct Reading {
  PerformanceBuilder builder;
  organ::ConsoleReader console;
  organ::Registration drawn;
  std::size_t played = 0;
  std::size_t lost = 0;
  std::bitset<17> channels;       // all that have notes
  std::bitset<17> lost_channels;  // those with notes that no division plays
};

std::int64_t frame_of(const take::Event& event) {
  return std::max<std::int64_t>(0, frames_from_seconds(seconds(event.at)));
}

void read_key(Reading& reading, const organ::Organ& organ, const take::Event& event) {
  const bool down = event.kind == take::EventKind::note_on;
  const auto division = organ::division_of(organ, event.channel + 1, event.data1);
  if (down) {
    reading.channels.set(std::size_t{event.channel} + 1);
    ++(division ? reading.played : reading.lost);
    if (!division) reading.lost_channels.set(std::size_t{event.channel} + 1);
  }
  if (!division) return;
  reading.builder.add({frame_of(event), down ? Act::key_down : Act::key_up,
                       static_cast<std::uint8_t>(*division), event.data1, 0});
}

void read_moves(Reading& reading, const organ::Organ& organ, const take::Event& event) {
  for (const organ::ConsoleMove& move : reading.console.feed(event)) {
    const organ::Registration after = organ::moved(organ, reading.drawn, move);
    reading.builder.change(frame_of(event), reading.drawn, after);
    reading.drawn = after;
  }
}

// A key of the console that is a stop's own message is no note.
bool is_control(const organ::Organ& organ, const take::Event& event) {
  organ::ConsoleReader reader(organ);
  return !reader.feed(event).empty();
}

std::string channel_list(const std::bitset<17>& channels) {
  std::string list;
  for (std::size_t c = 1; c < channels.size(); ++c)
    if (channels[c]) list += (list.empty() ? "" : ", ") + std::to_string(c);
  return list;
}

}  // namespace

Result<Performance> perform(const take::Take& take, const organ::Organ& organ,
                            const organ::Registration& drawn) {
  Reading reading{PerformanceBuilder(organ), organ::ConsoleReader(organ), drawn, 0, 0, {}, {}};
  reading.builder.change(0, organ::empty_registration(organ), drawn);
  std::int64_t end = 0;
  for (const take::Event& event : take.events) {
    end = std::max(end, frame_of(event));
    const bool key =
        event.kind == take::EventKind::note_on || event.kind == take::EventKind::note_off;
    if (key && !is_control(organ, event)) {
      read_key(reading, organ, event);
    } else {
      read_moves(reading, organ, event);
    }
  }
  if (reading.played == 0) {
    return Error{
        ErrorKind::no_fit,
        reading.lost == 0
            ? "the take has no notes."
            : "no note of the take belongs to a division of the organ: its notes are on "
              "channel " +
                  channel_list(reading.channels) + ".",
        organ.file,
        0,
        0,
        reading.lost == 0 ? "" : "Give a division that channel, or state a [split] of it."};
  }
  Performance performance = reading.builder.finish(end);
  performance.events.push_back({performance.frames, Act::release_keys, 0, 0, 0});
  if (reading.lost > 0)
    performance.notices.push_back(
        {std::to_string(reading.lost) + " notes of the take, on channel " +
         channel_list(reading.lost_channels) +
         ", belong to no division of the organ and are silent; the organ file says which channel "
         "and which keys a division has."});
  return performance;
}

}  // namespace loftbeat::voice
