#include "other_reader.h"

#include <fmt/format.h>
#include <unistd.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <map>
#include <set>
#include <sstream>

#include "../smf/tool.h"
#include "music/smf_file.h"

namespace loftbeat::music {
namespace {

constexpr std::int64_t kTicksThere = 480;
constexpr std::int64_t kLate = 1;      // every onset of abc2midi
constexpr std::int64_t kRounding = 1;  // tuplets that 480 ticks cannot divide

std::string quoted(const std::string& text) {
  std::string out = "'";
  for (const char c : text) out += c == '\'' ? std::string("'\\''") : std::string(1, c);
  return out + "'";
}

std::vector<OtherReading::Sound> sounds_of(const SmfTrack& track) {
  std::vector<OtherReading::Sound> sounds;
  std::map<std::pair<int, int>, std::vector<std::size_t>> open;  // channel, key
  for (const SmfEvent& event : track.events) {
    const int kind = event.status & 0xF0;
    if ((kind != 0x90 && kind != 0x80) || event.data.size() < 2) continue;
    const int pitch = static_cast<unsigned char>(event.data[0]);
    auto& held = open[{event.status & 0x0F, pitch}];
    if (kind == 0x90 && event.data[1] != 0) {
      held.push_back(sounds.size());
      sounds.push_back({event.ticks, event.ticks, pitch});
    } else if (!held.empty()) {
      sounds[held.front()].end = event.ticks;
      held.erase(held.begin());
    }
  }
  std::sort(sounds.begin(), sounds.end());
  return sounds;
}

// abc2midi spreads chords unless it is told not to, in each voice.
std::string with_chords_struck_together(const std::string& bytes) {
  std::istringstream lines(bytes);
  std::string out;
  const std::string together = "%%MIDI chordattack 0\n";
  bool in_tune = false;
  for (std::string line; std::getline(lines, line);) {
    if (line.rfind("X:", 0) == 0) in_tune = false;
    const std::size_t voice_end = line.rfind("[V:", 0) == 0 ? line.find(']') : line.npos;
    if (voice_end != line.npos) out += line.substr(0, voice_end + 1) + "\n" + together;
    out += line + "\n";
    in_tune = in_tune || line.rfind("K:", 0) == 0;
    if (in_tune && line.size() > 1 && line[1] == ':' && (line[0] == 'K' || line[0] == 'V')) {
      out += together;
    }
  }
  return out;
}

std::string error_lines(const std::string& told) {
  std::istringstream lines(told);
  std::string errors;
  for (std::string line; std::getline(lines, line);) {
    if (line.rfind("Error", 0) == 0) errors += line + "\n";
  }
  return errors;
}

std::int64_t ticks_there(Tick ticks) {
  return (ticks * kTicksThere + kTicksPerQuarter / 2) / kTicksPerQuarter;
}

class Matcher {
 public:
  explicit Matcher(const OtherReading& other) {
    for (std::size_t t = 0; t < other.tracks.size(); ++t) {
      for (const OtherReading::Sound& sound : other.tracks[t]) {
        waiting_[sound.pitch].push_back({sound, t, false});
      }
    }
  }

  // Tracks on which a note like ours stands.
  std::set<std::size_t> tracks_with(const OtherReading::Sound& ours) const {
    std::set<std::size_t> tracks;
    const auto found = waiting_.find(ours.pitch);
    if (found == waiting_.end()) return tracks;
    for (const Waiting& waiting : found->second) {
      if (alike(ours, waiting.sound)) tracks.insert(waiting.track);
    }
    return tracks;
  }

  // Takes a note like ours from the track.
  bool take(const OtherReading::Sound& ours, std::size_t track) {
    for (Waiting& waiting : waiting_[ours.pitch]) {
      if (waiting.taken || waiting.track != track || !alike(ours, waiting.sound)) continue;
      waiting.taken = true;
      return true;
    }
    return false;
  }

  std::vector<OtherReading::Sound> left() const {
    std::vector<OtherReading::Sound> sounds;
    for (const auto& [pitch, waitings] : waiting_) {
      for (const Waiting& waiting : waitings) {
        if (!waiting.taken) sounds.push_back(waiting.sound);
      }
    }
    std::sort(sounds.begin(), sounds.end());
    return sounds;
  }

 private:
  struct Waiting {
    OtherReading::Sound sound;
    std::size_t track = 0;
    bool taken = false;
  };

  static bool alike(const OtherReading::Sound& ours, const OtherReading::Sound& there) {
    return std::abs(there.end - ours.end) <= kRounding &&
           std::abs(there.onset - kLate - ours.onset) <= kRounding;
  }

  std::map<int, std::vector<Waiting>> waiting_;  // by pitch
};

std::string shown(const char* whose, const OtherReading::Sound& sound) {
  return fmt::format("{}: key {} from {:.3f} to {:.3f}", whose, sound.pitch,
                     static_cast<double>(sound.onset) / kTicksThere,
                     static_cast<double>(sound.end) / kTicksThere);
}

}  // namespace

std::optional<OtherReading> read_with_abc2midi(const std::string& bytes, int number) {
  const std::string stem =
      (std::filesystem::temp_directory_path() / fmt::format("loftbeat-abc-{}", ::getpid()))
          .string();
  const std::string made = stem + ".mid";
  std::ofstream(stem + ".abc", std::ios::binary) << with_chords_struck_together(bytes);
  const auto told = output_of(fmt::format("abc2midi {}.abc {} -NFER -NGRA -NGUI -o {} || true",
                                          quoted(stem), number, quoted(made)));
  std::optional<SmfFile> file;
  if (told && std::filesystem::exists(made)) {
    if (auto read = parse_smf(*read_file(made), made)) file = std::move(*read);
  }
  std::filesystem::remove(stem + ".abc");
  std::filesystem::remove(made);
  if (!file) return std::nullopt;
  OtherReading reading;
  reading.errors = error_lines(*told);
  for (const SmfTrack& track : file->tracks) {
    auto sounds = sounds_of(track);
    if (!sounds.empty()) reading.tracks.push_back(std::move(sounds));
  }
  return reading;
}

Agreement compare(const Score& ours, const OtherReading& other) {
  Agreement agreement;
  agreement.notes = ours.notes.size();
  Matcher matcher(other);
  const auto as_there = [](const Note& note) {
    return OtherReading::Sound{ticks_there(note.onset), ticks_there(note.onset + note.length),
                               note.pitch};
  };
  const auto tell = [&](const std::string& difference) {
    if (agreement.first.empty()) agreement.first = difference;
  };

  std::map<int, std::set<std::size_t>> tracks;  // on which all notes of a voice stand so far
  for (const Note& note : ours.notes) {
    const auto here = matcher.tracks_with(as_there(note));
    if (here.empty()) continue;
    const auto [found, first] = tracks.emplace(note.voice, here);
    std::set<std::size_t> both;
    std::set_intersection(here.begin(), here.end(), found->second.begin(), found->second.end(),
                          std::inserter(both, both.begin()));
    if (both.empty()) {
      agreement.voices = false;
      tell(fmt::format("voice {} lies on two tracks: ", note.voice) +
           shown("ours", as_there(note)));
    } else {
      found->second = both;
    }
  }
  for (const Note& note : ours.notes) {
    bool taken = false;
    for (const std::size_t track : tracks[note.voice]) {
      taken = taken || matcher.take(as_there(note), track);
    }
    if (taken) {
      ++agreement.same;
    } else {
      tell(shown("only ours", as_there(note)));
    }
  }
  const auto left = matcher.left();
  agreement.only_there = left.size();
  if (!left.empty()) tell(shown("only there", left.front()));
  return agreement;
}

}  // namespace loftbeat::music
