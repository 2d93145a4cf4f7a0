#include "music/smf_score_meta.h"

#include <algorithm>

#include "music/heading.h"
#include "music/smf_score_grid.h"
#include "music/smf_tempo.h"
#include "music/words.h"

namespace loftbeat::music {
namespace {

constexpr std::uint8_t kTextEvent = 0x01;
constexpr std::uint8_t kTrackName = 0x03;
constexpr std::uint8_t kLyric = 0x05;
constexpr std::uint8_t kTimeSignature = 0x58;
constexpr std::uint8_t kKeySignature = 0x59;
constexpr std::size_t kMaxTitle = 200;

std::uint8_t byte_at(const std::string& data, std::size_t i) {
  return static_cast<std::uint8_t>(data[i]);
}

std::size_t utf8_tail(std::uint8_t lead) {
  if (lead >= 0xC2 && lead < 0xE0) return 1;
  if (lead >= 0xE0 && lead < 0xF0) return 2;
  return lead >= 0xF0 && lead < 0xF5 ? 3 : 0;
}

bool is_utf8(const std::string& text) {
  for (std::size_t i = 0; i < text.size(); ++i) {
    const std::uint8_t lead = byte_at(text, i);
    if (lead < 0x80) continue;
    const std::size_t tail = utf8_tail(lead);
    if (tail == 0 || i + tail >= text.size()) return false;
    for (std::size_t k = 1; k <= tail; ++k) {
      if ((byte_at(text, i + k) & 0xC0) != 0x80) return false;
    }
    i += tail;
  }
  return true;
}

// RP-001 has text as ASCII; programs write UTF-8, and older ones Latin-1.
std::string readable(const std::string& text) {
  const bool utf8 = is_utf8(text);
  std::string plain;
  for (const char c : text) {
    const auto byte = static_cast<std::uint8_t>(c);
    if (plain.size() >= kMaxTitle && (byte & 0xC0) != 0x80) break;
    if (byte < 0x20 || byte == 0x7F) continue;
    if (byte < 0x80 || utf8) {
      plain.push_back(c);
    } else {
      plain.push_back(static_cast<char>(0xC0 | byte >> 6));
      plain.push_back(static_cast<char>(0x80 | (byte & 0x3F)));
    }
  }
  return plain;
}

class MetaReader {
 public:
  MetaReader(std::int64_t ticks_per_quarter, std::int64_t last)
      : ticks_per_quarter_(ticks_per_quarter), last_(last) {}

  SmfScoreMeta read(const SmfFile& file) {
    if (!file.tracks.empty()) read_title(file.tracks.front());
    for (const SmfTrack& track : file.tracks) {
      line_ended_ = false;
      TrackMarks marks;
      words_ended_ = words_ended_ || !meta_.words.empty();
      for (const SmfEvent& event : track.events) read(event, marks);
      const bool first = &track == &file.tracks.front();
      keep_fullest(std::move(marks.metres), first, first_.metres, fullest_.metres);
      keep_fullest(std::move(marks.keys), first, first_.keys, fullest_.keys);
    }
    meta_.metres = joined(first_.metres, fullest_.metres);
    meta_.keys = joined(first_.keys, fullest_.keys);
    read_tempi(file);
    put_in_order();
    return std::move(meta_);
  }

 private:
  // The first track's name is the name of the piece (RP-001, format 1).
  void read_title(const SmfTrack& track) {
    for (const SmfEvent& event : track.events) {
      if (event.status != 0xFF) continue;
      if (event.meta == kTrackName && meta_.title.empty()) meta_.title = readable(event.data);
      if (event.meta == kTextEvent && event.ticks == 0)
        take_heading(readable(event.data), HeadingPlace::elsewhere, meta_.heading);
    }
  }

  struct TrackMarks {
    std::vector<SmfMetre> metres;
    std::vector<KeyMark> keys;
  };

  // Metre and key belong to the first track (RP-001), but some programs repeat them in every
  // track, not always in the same place: the first track counts, and of the others the one that
  // says most.
  template <typename Mark>
  static void keep_fullest(std::vector<Mark> marks, bool is_first, std::vector<Mark>& first,
                           std::vector<Mark>& fullest) {
    if (is_first) {
      first = std::move(marks);
    } else if (marks.size() > fullest.size()) {
      fullest = std::move(marks);
    }
  }

  template <typename Mark>
  static std::vector<Mark> joined(std::vector<Mark> first, const std::vector<Mark>& others) {
    first.insert(first.end(), others.begin(), others.end());
    return first;
  }

  void read(const SmfEvent& event, TrackMarks& marks) {
    if (event.status != 0xFF || event.ticks > last_) return;
    const Tick at = notated_tick(event.ticks, ticks_per_quarter_);
    if (event.meta == kTimeSignature) read_metre(event.data, at, marks.metres);
    if (event.meta == kKeySignature) read_key(event.data, at, marks.keys);
    if (event.meta == kLyric && !event.data.empty()) read_lyric(event.data, at);
  }

  void read_metre(const std::string& data, Tick at, std::vector<SmfMetre>& metres) {
    const bool sensible = data.size() >= 2 && byte_at(data, 0) >= 1 && byte_at(data, 0) <= 128 &&
                          byte_at(data, 1) <= 6;
    if (!sensible) {
      ++meta_.odd_events;
      return;
    }
    metres.push_back({at, byte_at(data, 0), 1 << byte_at(data, 1)});
  }

  void read_key(const std::string& data, Tick at, std::vector<KeyMark>& keys) {
    const int fifths = data.empty() ? 99 : static_cast<signed char>(data[0]);
    if (data.size() < 2 || fifths < -7 || fifths > 7) {
      ++meta_.odd_events;
      return;
    }
    keys.push_back({at, fifths, data[1] == 1});
  }

  // A carriage return or line feed ends the line, before or after the syllable's text.
  void read_lyric(const std::string& data, Tick at) {
    const auto is_end = [](char c) { return c == '\r' || c == '\n'; };
    if (std::any_of(data.begin(), data.end(), [&](char c) { return !is_end(c); })) {
      meta_.lyrics = true;
    }
    if (!words_ended_) meta_.words.push_back(syllable(data, at));
    if (line_ended_ || is_end(data.front())) meta_.lyric_lines.push_back(at);
    line_ended_ = is_end(data.back());
  }

  // RP-017: a hyphen at the end tells that the word goes on.
  static Syllable syllable(const std::string& data, Tick at) {
    Syllable made{at, 1, false, short_text(readable(data), kMaxSyllableBytes)};
    if (made.text.size() > 1 && made.text.back() == '-') {
      made.text.pop_back();
      made.goes_on = true;
    }
    return made;
  }

  void read_tempi(const SmfFile& file) {
    for (const SmfTempo& tempo : tempo_map(file)) {
      if (tempo.ticks > last_) break;
      const Tick at = notated_tick(tempo.ticks, ticks_per_quarter_);
      if (!meta_.tempi.empty() && meta_.tempi.back().at == at) meta_.tempi.pop_back();
      const double per_minute = 60e6 / static_cast<double>(tempo.microseconds);
      if (!meta_.tempi.empty() && meta_.tempi.back().quarters_per_minute == per_minute) continue;
      meta_.tempi.push_back({at, per_minute});
    }
  }

  // By time; of several at one tick the last one counts.
  template <typename Mark>
  static void keep_last(std::vector<Mark>& marks) {
    std::stable_sort(marks.begin(), marks.end(),
                     [](const Mark& a, const Mark& b) { return a.at < b.at; });
    std::vector<Mark> kept;
    for (const Mark& mark : marks) {
      if (!kept.empty() && kept.back().at == mark.at) kept.pop_back();
      kept.push_back(mark);
    }
    marks = std::move(kept);
  }

  void put_in_order() {
    keep_last(meta_.metres);
    keep_last(meta_.keys);
    std::sort(meta_.lyric_lines.begin(), meta_.lyric_lines.end());
    if (meta_.metres.empty() || meta_.metres.front().at > 0) {
      meta_.metres.insert(meta_.metres.begin(), SmfMetre{});
    }
  }

  std::int64_t ticks_per_quarter_;
  std::int64_t last_;
  SmfScoreMeta meta_;
  TrackMarks first_;
  TrackMarks fullest_;
  bool line_ended_ = false;
  bool words_ended_ = false;  // an earlier track had them
};

}  // namespace

SmfScoreMeta smf_score_meta(const SmfFile& file, std::int64_t ticks_per_quarter,
                            std::int64_t last) {
  return MetaReader(ticks_per_quarter, last).read(file);
}

}  // namespace loftbeat::music
