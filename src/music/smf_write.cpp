#include <algorithm>
#include <array>
#include <cmath>

#include "music/smf_bytes.h"
#include "music/smf_file.h"

namespace loftbeat::music {
namespace {

constexpr std::uint8_t kMetaStatus = 0xFF;
constexpr std::uint8_t kEndOfTrackMeta = 0x2F;

// The two bytes of a division in frames: the pair that comes nearest to the wanted rate.
std::uint32_t frame_division(double ticks_per_second) {
  struct Rate {
    int frames;
    double per_second;
  };
  constexpr std::array<Rate, 4> kRates{
      {{25, 25.0}, {30, 30.0}, {24, 24.0}, {29, 30'000.0 / 1001.0}}};
  std::uint32_t best = 0;
  double best_error = 0;
  for (const Rate& rate : kRates) {
    const double ticks = std::clamp(std::round(ticks_per_second / rate.per_second), 1.0, 255.0);
    const double error = std::abs(ticks * rate.per_second - ticks_per_second);
    if (best != 0 && error >= best_error) continue;
    best = static_cast<std::uint32_t>(256 - rate.frames) << 8 | static_cast<std::uint32_t>(ticks);
    best_error = error;
  }
  return best;
}

// A gap longer than four bytes can say is bridged by empty text events.
void append_delta(std::string& out, std::int64_t delta) {
  while (delta > kMaxVariableLength) {
    append_variable_length(out, kMaxVariableLength);
    out.append("\xFF\x01\x00", 3);
    delta -= kMaxVariableLength;
  }
  append_variable_length(out, static_cast<std::uint32_t>(std::max<std::int64_t>(delta, 0)));
}

void append_event(std::string& out, const SmfEvent& event) {
  out.push_back(static_cast<char>(event.status));
  if (event.status == kMetaStatus) out.push_back(static_cast<char>(event.meta));
  if (event.status >= 0xF0) {
    const std::size_t size = std::min<std::size_t>(event.data.size(), kMaxVariableLength);
    append_variable_length(out, static_cast<std::uint32_t>(size));
    out.append(event.data, 0, size);
  } else {
    out.append(event.data);
  }
}

bool is_end(const SmfEvent& event) {
  return event.status == kMetaStatus && event.meta == kEndOfTrackMeta;
}

std::string track_body(const SmfTrack& track) {
  std::string body;
  std::int64_t now = 0;
  for (const SmfEvent& event : track.events) {
    append_delta(body, event.ticks - now);
    now = std::max(now, event.ticks);
    append_event(body, event);
    if (is_end(event)) return body;
  }
  return body.append("\x00\xFF\x2F\x00", 4);
}

}  // namespace

std::string format_smf(const SmfFile& file) {
  std::string out = "MThd";
  append_u32(out, 6);
  append_u16(out, static_cast<std::uint32_t>(file.format));
  append_u16(out, static_cast<std::uint32_t>(file.tracks.size()));
  append_u16(out, file.smpte ? frame_division(file.ticks_per_second)
                             : static_cast<std::uint32_t>(file.ticks_per_quarter));
  for (const SmfTrack& track : file.tracks) {
    const std::string body = track_body(track);
    out += "MTrk";
    append_u32(out, static_cast<std::uint32_t>(body.size()));
    out += body;
  }
  return out;
}

}  // namespace loftbeat::music
