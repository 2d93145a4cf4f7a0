#pragma once

#include <string>
#include <string_view>

#include "music/smf_bytes.h"

namespace loftbeat::music {

// "90 3C 40" as bytes; blanks are passed over.
inline std::string hex(std::string_view digits) {
  std::string bytes;
  int high = -1;
  for (const char c : digits) {
    if (c == ' ') continue;
    const int value = c <= '9' ? c - '0' : c - 'A' + 10;
    if (high < 0) {
      high = value;
    } else {
      bytes.push_back(static_cast<char>(high * 16 + value));
      high = -1;
    }
  }
  return bytes;
}

// A chunk with its true length.
inline std::string chunk(std::string_view id, const std::string& body) {
  std::string out(id);
  append_u32(out, static_cast<std::uint32_t>(body.size()));
  return out + body;
}

// A header of the usual six bytes.
inline std::string header(std::uint32_t format, std::uint32_t tracks, std::uint32_t division) {
  std::string body;
  append_u16(body, format);
  append_u16(body, tracks);
  append_u16(body, division);
  return chunk("MThd", body);
}

// A whole file of one track, from the track's bytes as hex digits.
inline std::string one_track(std::string_view digits, std::uint32_t division = 480) {
  return header(0, 1, division) + chunk("MTrk", hex(digits));
}

}  // namespace loftbeat::music
