#include "music/smf_score_notes.h"

#include <algorithm>
#include <array>
#include <tuple>

namespace loftbeat::music {
namespace {

constexpr std::size_t kDrumChannel = 9;  // "channel 10"

// Walks one track after the other. The open notes of each key of each channel are a list, the
// oldest first, linked by note index.
class NotePairing {
 public:
  explicit NotePairing(SmfNotes& into) : into_(into) { open_.fill({}); }

  void read(const SmfTrack& track) {
    part_of_channel_.fill(-1);
    for (const SmfEvent& event : track.events) {
      const int kind = event.status & 0xF0;
      if ((kind != 0x90 && kind != 0x80) || event.data.size() < 2) continue;
      const auto channel = static_cast<std::size_t>(event.status & 0x0F);
      const auto key = static_cast<std::uint8_t>(event.data[0] & 0x7F);
      if (kind == 0x90 && event.data[1] != 0) {
        begin(channel, key, event.ticks);
      } else {
        end(channel * 128 + key, event.ticks);
      }
    }
    end_all(track.events.empty() ? 0 : track.events.back().ticks);
  }

  // By part: it is channel 10.
  [[nodiscard]] const std::vector<bool>& drum_parts() const { return drum_parts_; }

 private:
  struct Open {
    std::int32_t first = -1;
    std::int32_t last = -1;
  };

  int part_of(std::size_t channel) {
    int& part = part_of_channel_[channel];
    if (part < 0) {
      part = into_.parts++;
      drum_parts_.push_back(channel == kDrumChannel);
    }
    return part;
  }

  void begin(std::size_t channel, std::uint8_t key, std::int64_t ticks) {
    const auto note = static_cast<std::int32_t>(into_.notes.size());
    into_.notes.push_back({ticks, ticks, key, part_of(channel)});
    next_.push_back(-1);
    Open& open = open_[channel * 128 + key];
    if (open.first < 0) {
      open.first = note;
      touched_.push_back(channel * 128 + key);
    } else {
      next_[static_cast<std::size_t>(open.last)] = note;
    }
    open.last = note;
  }

  void end(std::size_t key, std::int64_t ticks) {
    Open& open = open_[key];
    if (open.first < 0) return;
    into_.notes[static_cast<std::size_t>(open.first)].off = ticks;
    open.first = next_[static_cast<std::size_t>(open.first)];
  }

  void end_all(std::int64_t ticks) {
    for (const std::size_t key : touched_) {
      while (open_[key].first >= 0) {
        end(key, ticks);
        ++into_.unreleased;
      }
    }
    touched_.clear();
  }

  SmfNotes& into_;
  std::array<int, 16> part_of_channel_{};
  std::array<Open, 16 * 128> open_{};
  std::vector<std::int32_t> next_;
  std::vector<std::size_t> touched_;
  std::vector<bool> drum_parts_;
};

void leave_out_drums(SmfNotes& notes, const std::vector<bool>& drum_parts) {
  const auto drum = [&](const SmfNote& n) { return drum_parts[static_cast<std::size_t>(n.part)]; };
  const auto count =
      static_cast<std::size_t>(std::count_if(notes.notes.begin(), notes.notes.end(), drum));
  if (count == notes.notes.size()) return;
  notes.drums = count;
  notes.notes.erase(std::remove_if(notes.notes.begin(), notes.notes.end(), drum),
                    notes.notes.end());
}

}  // namespace

SmfNotes smf_notes(const SmfFile& file) {
  SmfNotes notes;
  NotePairing pairing(notes);
  for (const SmfTrack& track : file.tracks) pairing.read(track);
  leave_out_drums(notes, pairing.drum_parts());
  std::sort(notes.notes.begin(), notes.notes.end(), [](const SmfNote& a, const SmfNote& b) {
    return std::tie(a.on, a.part, a.pitch, a.off) < std::tie(b.on, b.part, b.pitch, b.off);
  });
  return notes;
}

}  // namespace loftbeat::music
