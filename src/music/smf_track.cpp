#include "music/smf_track.h"

#include "music/smf_bytes.h"

namespace loftbeat::music {
namespace {

constexpr std::uint8_t kMeta = 0xFF;
constexpr std::uint8_t kEndOfTrack = 0x2F;
constexpr std::uint8_t kTempo = 0x51;

std::size_t data_bytes(std::uint8_t status) {
  const int kind = status & 0xF0;
  return kind == 0xC0 || kind == 0xD0 ? 1 : 2;
}

std::size_t system_common_bytes(std::uint8_t status) {
  if (status == 0xF2) return 2;  // song position
  return status == 0xF1 || status == 0xF3 ? 1 : 0;
}

bool is_real_time(std::uint8_t byte) { return byte >= 0xF8 && byte != kMeta; }

class TrackReader {
 public:
  TrackReader(std::string_view bytes, SmfTally& tally) : cursor_(bytes), tally_(tally) {}

  TrackRead read() {
    while (!ended_ && !stopped_ && !cursor_.at_end() && !limit_reached()) read_event();
    TrackRead result;
    if (ended_) {
      result.unused_bytes = cursor_.remaining();
    } else {
      result.dropped_bytes = cursor_.remaining();
      track_.truncated = true;
    }
    result.track = std::move(track_);
    return result;
  }

 private:
  [[nodiscard]] bool limit_reached() const {
    return tally_.too_many_events || tally_.too_many_notes;
  }

  // Leaves the cursor at the event's first byte if the event does not fit any more.
  void read_event() {
    const ByteCursor before = cursor_;
    const std::int64_t ticks_before = ticks_;
    if (const auto delta = cursor_.variable_length()) {
      ticks_ += *delta;
      if (read_message()) return;
    }
    cursor_ = before;
    ticks_ = ticks_before;
    stopped_ = true;
  }

  // False if the bytes end inside the message.
  bool read_message() {
    skip_stray_bytes();
    if (cursor_.at_end()) return false;
    const std::uint8_t first = cursor_.peek();
    if (first < 0x80) return read_channel_message(running_status_);
    cursor_.skip(1);
    if (first < 0xF0) {
      running_status_ = first;
      return read_channel_message(first);
    }
    if (first == kMeta) return read_meta();
    if (first == 0xF0 || first == 0xF7) return read_exclusive(first);
    ++tally_.system_messages;
    return cursor_.take(system_common_bytes(first)).has_value();
  }

  // Data bytes before the first status of a track belong to nothing.
  void skip_stray_bytes() {
    if (running_status_ != 0) return;
    while (!cursor_.at_end() && cursor_.peek() < 0x80) {
      cursor_.skip(1);
      ++tally_.stray_bytes;
    }
  }

  // Strictly, meta events and exclusives end running status; many files rely on its surviving
  // them, and a data byte there has no other meaning, so it survives here too.
  bool read_channel_message(std::uint8_t status) {
    std::string data;
    while (data.size() < data_bytes(status)) {
      if (cursor_.at_end()) return false;
      const std::uint8_t byte = cursor_.peek();
      if (is_real_time(byte)) {
        ++tally_.system_messages;
      } else if (byte >= 0x80) {
        ++tally_.broken_messages;
        return true;  // the byte is read again, as the start of the next event
      } else {
        data.push_back(static_cast<char>(byte));
      }
      cursor_.skip(1);
    }
    if ((status & 0xF0) == 0x90 && data[1] != 0) count_note();
    keep({ticks_, status, 0, std::move(data)});
    return true;
  }

  bool read_meta() {
    const auto type = cursor_.u8();
    if (!type) return false;
    const auto data = read_sized();
    if (!data) return false;
    if (*type == kTempo && (data->size() != 3 || *data == std::string_view("\0\0\0", 3))) {
      ++tally_.odd_tempi;
    }
    keep({ticks_, kMeta, *type, std::string(*data)});
    ended_ = *type == kEndOfTrack;
    return true;
  }

  bool read_exclusive(std::uint8_t status) {
    const auto data = read_sized();
    if (!data) return false;
    keep({ticks_, status, 0, std::string(*data)});
    return true;
  }

  std::optional<std::string_view> read_sized() {
    const auto size = cursor_.variable_length();
    if (!size) return std::nullopt;
    return cursor_.take(*size);
  }

  void count_note() {
    if (tally_.notes == kMaxNotes) {
      tally_.too_many_notes = true;
    } else {
      ++tally_.notes;
    }
  }

  void keep(SmfEvent event) {
    if (tally_.events == kMaxSmfEvents) {
      tally_.too_many_events = true;
      return;
    }
    ++tally_.events;
    track_.events.push_back(std::move(event));
  }

  ByteCursor cursor_;
  SmfTally& tally_;
  SmfTrack track_;
  std::int64_t ticks_ = 0;
  std::uint8_t running_status_ = 0;
  bool ended_ = false;
  bool stopped_ = false;
};

}  // namespace

TrackRead read_smf_track(std::string_view bytes, SmfTally& tally) {
  return TrackReader(bytes, tally).read();
}

}  // namespace loftbeat::music
