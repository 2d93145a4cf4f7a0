#include "take/pedal_division.h"

#include <algorithm>
#include <array>

namespace loftbeat::take {
namespace {

constexpr std::uint8_t kLowestPedal = 24;
constexpr std::uint8_t kHighestPedal = 67;
constexpr std::size_t kFewestStrokes = 4;
constexpr Nanoseconds kLegato = std::chrono::milliseconds(150);

// What the strokes of one channel have shown.
struct Channel {
  std::size_t strokes = 0;
  std::size_t alone = 0;        // began with no other key of the channel held on
  std::size_t with_others = 0;  // began while another channel sounded
  std::size_t lowest = 0;       // of these, below or level with all that sounded
  std::uint8_t low = 127;
  std::uint8_t high = 0;
  Instant busy_until;  // the latest release so far

  [[nodiscard]] bool is_pedal() const {
    return strokes >= kFewestStrokes && low >= kLowestPedal && high <= kHighestPedal &&
           alone * 10 >= strokes * 9 && with_others * 2 >= strokes &&
           lowest * 10 >= with_others * 9;
  }
};

// What sounds when a stroke of one channel begins, counting keys as sounding that begin a little
// later: feet and hands are rarely quite together. The last strokes of each channel are enough.
class Sounding {
 public:
  void add(const Stroke& stroke, std::uint8_t channel) {
    Ring& ring = rings_[channel];
    ring.strokes[ring.next++ % kKept] = stroke;
  }

  struct Others {
    bool any = false;
    std::uint8_t lowest = 127;
  };
  [[nodiscard]] Others beside(std::uint8_t channel, Instant at) const {
    Others others;
    for (std::uint8_t c = 0; c < 16; ++c) {
      if (c == channel) continue;
      const Ring& ring = rings_[c];
      for (std::size_t i = 0; i < std::min(ring.next, kKept); ++i) {
        if (ring.strokes[i].off <= at + kLegato) continue;
        others.any = true;
        others.lowest = std::min(others.lowest, ring.strokes[i].key);
      }
    }
    return others;
  }

 private:
  static constexpr std::size_t kKept = 16;
  struct Ring {
    std::array<Stroke, kKept> strokes{};
    std::size_t next = 0;
  };
  std::array<Ring, 16> rings_{};
};

void look_at(const Stroke& stroke, Channel& channel, const Sounding::Others& others) {
  ++channel.strokes;
  channel.low = std::min(channel.low, stroke.key);
  channel.high = std::max(channel.high, stroke.key);
  if (channel.strokes == 1 || channel.busy_until <= stroke.on + kLegato) ++channel.alone;
  channel.busy_until = std::max(channel.busy_until, stroke.off);
  if (!others.any) return;
  ++channel.with_others;
  if (stroke.key <= others.lowest) ++channel.lowest;
}

}  // namespace

std::uint16_t find_pedal_channels(const Strokes& strokes, const std::vector<bool>& left_out) {
  std::array<Channel, 16> channels{};
  Sounding sounding;
  std::size_t entered = 0;  // strokes up to kLegato after the one looked at sound already
  for (const Stroke& stroke : strokes.all) {
    while (entered < strokes.all.size() && strokes.all[entered].on <= stroke.on + kLegato) {
      const Stroke& next = strokes.all[entered++];
      if (!left_out[next.slot]) sounding.add(next, strokes.slots[next.slot].channel);
    }
    if (left_out[stroke.slot]) continue;
    const std::uint8_t c = strokes.slots[stroke.slot].channel;
    look_at(stroke, channels[c], sounding.beside(c, stroke.on));
  }
  std::uint16_t pedals = 0;
  bool hands = false;
  for (std::size_t c = 0; c < channels.size(); ++c) {
    if (channels[c].is_pedal()) {
      pedals = static_cast<std::uint16_t>(pedals | 1u << c);
    } else if (channels[c].strokes > 0) {
      hands = true;
    }
  }
  return hands ? pedals : std::uint16_t{0};
}

}  // namespace loftbeat::take
