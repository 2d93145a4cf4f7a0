#include "music/smf_file.h"

#include <fmt/format.h>

#include <exception>
#include <optional>
#include <utility>

#include "music/smf_bytes.h"
#include "music/smf_track.h"

namespace loftbeat::music {
namespace {

constexpr std::size_t kMaxTracks = 65'535;  // what the header's 16 bits can count
constexpr std::size_t kMaxTrackNotices = 20;

Error unreadable(const std::string& name, std::string message, std::string hint) {
  return Error{ErrorKind::unreadable, std::move(message), name, 0, 0, std::move(hint)};
}

// The SMF inside a RIFF wrapper (form RMID, chunk "data"), or the bytes as they are.
std::string_view unwrap_riff(std::string_view bytes) {
  ByteCursor cursor(bytes);
  if (cursor.take(4) != "RIFF" || !cursor.take(4) || cursor.take(4) != "RMID") return bytes;
  while (cursor.remaining() >= 8) {
    const auto id = cursor.take(4);
    const std::size_t size = *cursor.u32_little();
    if (*id == "data") return bytes.substr(cursor.position(), size);
    cursor.skip(size + size % 2);
  }
  return bytes;
}

class FileReader {
 public:
  FileReader(std::string_view bytes, const std::string& name)
      : cursor_(unwrap_riff(bytes)), name_(name) {}

  Result<SmfFile> read() {
    if (const Status status = read_header(); !status.ok()) return status.error();
    while (cursor_.remaining() >= 8 && !tally_.too_many_events && !tally_.too_many_notes) {
      if (file_.tracks.size() == kMaxTracks) break;
      read_chunk();
    }
    if (const Status status = check_limits(); !status.ok()) return status.error();
    if (tally_.events == 0) {
      return unreadable(name_,
                        "holds no MIDI events that can be read; expected a track with notes.",
                        "Record or export the file again.");
    }
    conclude();
    return std::move(file_);
  }

 private:
  Status read_header() {
    if (cursor_.take(4) != "MThd") {
      return unreadable(name_, "is no Standard MIDI File: it does not begin with MThd.",
                        "Choose a .mid file.");
    }
    const auto length = cursor_.u32();
    const auto format = cursor_.u16();
    const auto tracks = cursor_.u16();
    const auto division = cursor_.u16();
    if (!division || *length < 6) {
      return unreadable(name_, "breaks off inside its header.", "Record or export it again.");
    }
    announced_tracks_ = *tracks;
    if (*format > 1) {
      return unreadable(name_,
                        fmt::format("is a MIDI file of format {}; expected 0 or 1.", *format),
                        "Export the piece as MIDI format 1.");
    }
    file_.format = *format;
    skip_long_header(*length - 6);
    return read_division(*division);
  }

  // A longer header is skipped as RP-001 asks, unless its length is plainly false.
  void skip_long_header(std::size_t extra) {
    ByteCursor here = cursor_;
    if (here.take(4) == "MTrk" || extra > cursor_.remaining()) {
      if (extra > 0) notice("The header states a false length, which was passed over.");
      return;
    }
    cursor_.skip(extra);
  }

  Status read_division(std::uint16_t division) {
    file_.smpte = (division & 0x8000) != 0;
    if (!file_.smpte) {
      file_.ticks_per_quarter = division;
      if (division != 0) return {};
      return unreadable(name_, "has a division of 0 ticks a quarter note; expected 1 to 32767.",
                        "Record or export it again.");
    }
    const int frames = 256 - (division >> 8);
    const int ticks = division & 0xFF;
    const bool known = frames == 24 || frames == 25 || frames == 29 || frames == 30;
    if (!known || ticks == 0) {
      return unreadable(name_,
                        fmt::format("counts {} frames a second of {} ticks; expected 24, 25, 29 or "
                                    "30 frames of 1 to 255 ticks.",
                                    frames, ticks),
                        "Export it with a division in ticks a quarter note.");
    }
    file_.ticks_per_second = (frames == 29 ? 30'000.0 / 1001.0 : frames) * ticks;
    return {};
  }

  // Requires 8 bytes.
  void read_chunk() {
    const std::string_view id = *cursor_.take(4);
    const std::size_t length = *cursor_.u32();
    const bool cut = length > cursor_.remaining();
    const std::string_view body = *cursor_.take(cut ? cursor_.remaining() : length);
    if (id != "MTrk") {
      ++unknown_chunks_;
      return;
    }
    TrackRead read = read_smf_track(body, tally_);
    file_.tracks.push_back(std::move(read.track));
    tell_damage(read, cut);
  }

  void tell_damage(const TrackRead& read, bool cut) {
    const std::size_t number = file_.tracks.size();
    const bool truncated = file_.tracks.back().truncated;
    if (!truncated && read.unused_bytes == 0) return;
    if (++damaged_tracks_ > kMaxTrackNotices) return;
    if (!truncated) {
      notice(fmt::format("Track {} goes on after its end: {} bytes were left out.", number,
                         read.unused_bytes));
    } else if (cut || read.dropped_bytes > 0) {
      notice(
          fmt::format("Track {} breaks off: {} bytes at its end could not be read; what came "
                      "before is kept.",
                      number, read.dropped_bytes));
    } else {
      notice(fmt::format("Track {} has no end-of-track event; nothing is lost.", number));
    }
  }

  [[nodiscard]] Status check_limits() const {
    if (tally_.too_many_notes) {
      return Error{ErrorKind::too_large,
                   fmt::format("holds more than {} notes.", kMaxNotes),
                   name_,
                   0,
                   0,
                   "Cut it into shorter files."};
    }
    if (tally_.too_many_events) {
      return Error{ErrorKind::too_large,
                   fmt::format("holds more than {} MIDI events.", kMaxSmfEvents),
                   name_,
                   0,
                   0,
                   "Cut it into shorter files."};
    }
    return {};
  }

  void conclude() {
    if (damaged_tracks_ > kMaxTrackNotices) {
      notice(fmt::format("{} more tracks are damaged too.", damaged_tracks_ - kMaxTrackNotices));
    }
    if (cursor_.remaining() > 0) {
      notice(fmt::format("{} bytes after the last track were left out.", cursor_.remaining()));
    }
    if (file_.tracks.size() != announced_tracks_) {
      notice(fmt::format("The header announces {} tracks; {} were found and read.",
                         announced_tracks_, file_.tracks.size()));
    }
    if (file_.format == 0 && file_.tracks.size() > 1) file_.format = 1;
    tell(unknown_chunks_, "unknown chunks were passed over");
    tell(tally_.stray_bytes, "data bytes without a status were left out");
    tell(tally_.broken_messages, "broken MIDI messages were left out");
    tell(tally_.system_messages, "system messages that do not belong in a file were left out");
    tell(tally_.odd_tempi, "tempo events without a usable tempo were left out");
  }

  void tell(std::size_t count, std::string_view what) {
    if (count > 0) notice(fmt::format("{} {}.", count, what));
  }

  void notice(std::string message) { file_.notices.push_back({std::move(message), name_}); }

  ByteCursor cursor_;
  const std::string& name_;
  SmfFile file_;
  SmfTally tally_;
  std::size_t announced_tracks_ = 0;
  std::size_t unknown_chunks_ = 0;
  std::size_t damaged_tracks_ = 0;
};

}  // namespace

Result<SmfFile> parse_smf(std::string_view bytes, const std::string& name) {
  try {
    return FileReader(bytes, name).read();
  } catch (const std::exception&) {  // out of memory; nothing else is thrown here
    return Error{ErrorKind::too_large, "is too large to be held in memory.", name};
  }
}

}  // namespace loftbeat::music
