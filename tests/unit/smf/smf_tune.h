#pragma once

#include <algorithm>
#include <string>
#include <utility>
#include <vector>

#include "music/read.h"
#include "music/smf_file.h"

namespace loftbeat::music {

// Writes a tune as a file, note by note, for readers to be tried on.
class Tune {
 public:
  explicit Tune(int ticks_per_quarter = 480, std::size_t tracks = 1) {
    file_.ticks_per_quarter = ticks_per_quarter;
    file_.tracks.resize(tracks);
  }
  Tune& note(std::int64_t on, std::int64_t length, int pitch, std::size_t track = 0,
             int channel = 0) {
    const auto c = static_cast<std::uint8_t>(channel);
    const std::string key(1, static_cast<char>(pitch));
    add(track, {on, static_cast<std::uint8_t>(0x90 | c), 0, key + '\x40'});
    add(track, {on + length, static_cast<std::uint8_t>(0x80 | c), 0, key + '\x40'});
    return *this;
  }
  Tune& meta(std::int64_t at, int type, std::string data, std::size_t track = 0) {
    add(track, {at, 0xFF, static_cast<std::uint8_t>(type), std::move(data)});
    return *this;
  }
  Tune& metre(std::int64_t at, int beats, int power) {
    return meta(at, 0x58, {static_cast<char>(beats), static_cast<char>(power), '\x18', '\x08'});
  }
  SmfFile& file() { return file_; }
  std::string bytes() {
    for (SmfTrack& track : file_.tracks) {
      std::stable_sort(track.events.begin(), track.events.end(),
                       [](const SmfEvent& a, const SmfEvent& b) {
                         const auto order = [](const SmfEvent& e) {
                           return std::pair(e.ticks, (e.status & 0xF0) == 0x90 ? 1 : 0);
                         };
                         return order(a) < order(b);
                       });
    }
    return format_smf(file_);
  }
  ReadScore score() {
    auto read = parse_smf_score(bytes(), "tune.mid");
    return read.ok() ? *read : ReadScore{};
  }

 private:
  void add(std::size_t track, SmfEvent event) {
    file_.tracks[track].events.push_back(std::move(event));
  }
  SmfFile file_;
};

}  // namespace loftbeat::music
