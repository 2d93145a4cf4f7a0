#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <numeric>
#include <optional>
#include <string>
#include <utility>

#include "music/smf_file.h"
#include "music/write.h"

namespace loftbeat::music {
namespace {

constexpr std::uint8_t kScoreMeta = 0xFF;
constexpr std::uint8_t kWrittenText = 0x01;
constexpr std::uint8_t kWrittenName = 0x03;
constexpr std::uint8_t kWrittenLyric = 0x05;
constexpr std::uint8_t kWrittenTempo = 0x51;
constexpr std::uint8_t kWrittenMetre = 0x58;
constexpr std::uint8_t kWrittenKey = 0x59;
constexpr int kUsualDivision = 480;
constexpr int kWrittenVelocity = 64;
constexpr int kDrums = 9;  // the channel that is no pitch

// A length of bar as a time signature can say it.
struct SmfSignature {
  int beats = 4;
  int power = 2;  // of two, of the beat's kind
  friend bool operator==(const SmfSignature&, const SmfSignature&) = default;
};

int power_of(int beat_type) {
  int power = 0;
  while ((1 << power) < beat_type) ++power;
  return power;
}

Tick length_of(const SmfSignature& signature) {
  return 4 * kTicksPerQuarter * signature.beats / (Tick{1} << signature.power);
}

// The metre where the bar fills it; otherwise what its length is, in the metre's own beats if that
// can be. Nothing if no signature is so long.
std::optional<SmfSignature> signature_of(const Bar& bar) {
  for (int power = power_of(bar.beat_type); power <= 6; ++power) {
    const Tick beat = 4 * kTicksPerQuarter / (Tick{1} << power);
    const Tick beats = bar.length / beat;
    if (beats * beat == bar.length && beats >= 1 && beats <= 128)
      return SmfSignature{static_cast<int>(beats), power};
  }
  return std::nullopt;
}

class SmfScoreWriter {
 public:
  explicit SmfScoreWriter(const Score& score) : score_(score) {}

  SmfFile write() {
    SmfFile file;
    file.format = 1;
    file.ticks_per_quarter = division();
    per_tick_ = kTicksPerQuarter / file.ticks_per_quarter;
    file.tracks.push_back(head());
    for (int voice = 0; voice < score_.voices; ++voice) file.tracks.push_back(track_of(voice));
    return file;
  }

 private:
  // As coarse as most programs write it, where nothing is lost by that.
  [[nodiscard]] int division() const {
    Tick grain = kTicksPerQuarter / kUsualDivision;
    for (const Note& note : score_.notes)
      grain = std::gcd(grain, std::gcd(note.onset, note.length));
    for (const Bar& bar : score_.bars) grain = std::gcd(grain, std::gcd(bar.start, bar.length));
    for (const KeyMark& mark : score_.keys) grain = std::gcd(grain, mark.at);
    for (const TempoMark& mark : score_.tempi) grain = std::gcd(grain, mark.at);
    return static_cast<int>(kTicksPerQuarter / grain);
  }

  [[nodiscard]] std::int64_t place(Tick at) const { return at / per_tick_; }

  static SmfEvent meta(std::int64_t ticks, std::uint8_t kind, std::string data) {
    return {ticks, kScoreMeta, kind, std::move(data)};
  }

  SmfTrack head() const {
    SmfTrack track;
    track.events.push_back(meta(0, kWrittenName, score_.title));
    if (!score_.tune.empty())
      track.events.push_back(meta(0, kWrittenText, "Tune: \"" + score_.tune + "\""));
    if (!score_.poetic_metre.empty())
      track.events.push_back(meta(0, kWrittenText, "Metre: " + score_.poetic_metre));
    add_metres(track);
    for (const KeyMark& mark : score_.keys) {
      const std::string data = {static_cast<char>(mark.fifths), mark.minor ? '\1' : '\0'};
      track.events.push_back(meta(place(mark.at), kWrittenKey, data));
    }
    for (const TempoMark& mark : score_.tempi) add_tempo(track, mark);
    sort(track);
    return track;
  }

  void add_metres(SmfTrack& track) const {
    std::optional<SmfSignature> in_force;
    for (std::size_t b = 0; b < score_.bars.size(); ++b) {
      const Bar& bar = score_.bars[b];
      SmfSignature wanted =
          signature_of(bar).value_or(SmfSignature{bar.beats, power_of(bar.beat_type)});
      // A last bar that the upbeat completes keeps its metre: readers cut it there.
      const bool last = b > 0 && b + 1 == score_.bars.size();
      if (last && completes_upbeat(bar)) wanted = {bar.beats, power_of(bar.beat_type)};
      if (in_force == wanted) continue;
      in_force = wanted;
      const std::string data = {static_cast<char>(wanted.beats), static_cast<char>(wanted.power),
                                24, 8};
      track.events.push_back(meta(place(bar.start), kWrittenMetre, data));
    }
  }

  [[nodiscard]] bool completes_upbeat(const Bar& bar) const {
    const Bar& first = score_.bars.front();
    return first.pickup &&
           bar.length + first.length == length_of({bar.beats, power_of(bar.beat_type)});
  }

  void add_tempo(SmfTrack& track, const TempoMark& mark) const {
    const double wanted = std::round(60e6 / mark.quarters_per_minute);
    const auto micro = static_cast<std::uint32_t>(std::clamp(wanted, 1.0, 16'777'215.0));
    const std::string data = {static_cast<char>(micro >> 16 & 0xFF),
                              static_cast<char>(micro >> 8 & 0xFF),
                              static_cast<char>(micro & 0xFF)};
    track.events.push_back(meta(place(mark.at), kWrittenTempo, data));
  }

  SmfTrack track_of(int voice) const {
    SmfTrack track;
    track.events.push_back(meta(0, kWrittenName, voice_name(voice)));
    const int channel = channel_of(voice);
    if (voice == 0) add_words(track);
    for (const Note& note : score_.notes) {
      if (note.voice != voice) continue;
      const auto key = static_cast<char>(note.pitch);
      track.events.push_back({place(note.onset),
                              static_cast<std::uint8_t>(0x90 | channel),
                              0,
                              {key, static_cast<char>(kWrittenVelocity)}});
      track.events.push_back({place(note.onset + note.length),
                              static_cast<std::uint8_t>(0x80 | channel),
                              0,
                              {key, static_cast<char>(kWrittenVelocity)}});
    }
    sort(track);
    return track;
  }

  [[nodiscard]] std::string voice_name(int voice) const {
    constexpr std::array<const char*, 4> kNames{"Soprano", "Alto", "Tenor", "Bass"};
    if (score_.voices == 4) return kNames[static_cast<std::size_t>(voice)];
    return "Voice " + std::to_string(voice + 1);
  }

  // A channel for each voice as far as they go, past that of the drums.
  static int channel_of(int voice) {
    const int channel = voice % 15;
    return channel < kDrums ? channel : channel + 1;
  }

  // The first verse; a carriage return ends a line (RP-017).
  void add_words(SmfTrack& track) const {
    int verse = kMaxVerses;
    for (const Syllable& syllable : score_.words) verse = std::min(verse, syllable.verse);
    std::vector<const Syllable*> sung;
    for (const Syllable& syllable : score_.words)
      if (syllable.verse == verse) sung.push_back(&syllable);
    for (std::size_t i = 0; i < sung.size(); ++i) {
      std::string text = sung[i]->text + (sung[i]->goes_on ? "-" : "");
      if (i + 1 < sung.size() && ends_line(sung[i]->at, sung[i + 1]->at)) text += "\r";
      track.events.push_back(meta(place(sung[i]->at), kWrittenLyric, std::move(text)));
    }
  }

  [[nodiscard]] bool ends_line(Tick at, Tick next) const {
    return std::any_of(score_.phrases.begin(), score_.phrases.end(), [&](const Phrase& phrase) {
      return phrase.span.begin > at && phrase.span.begin <= next;
    });
  }

  // At one instant: what ends, what is told, what begins.
  static void sort(SmfTrack& track) {
    const auto rank = [](const SmfEvent& event) {
      if (event.status == kScoreMeta) return 1;
      return (event.status & 0xF0) == 0x80 ? 0 : 2;
    };
    std::stable_sort(track.events.begin(), track.events.end(),
                     [&](const SmfEvent& a, const SmfEvent& b) {
                       return std::pair(a.ticks, rank(a)) < std::pair(b.ticks, rank(b));
                     });
  }

  const Score& score_;
  Tick per_tick_ = 1;
};

}  // namespace

std::string format_smf_score(const Score& score) {
  return format_smf(SmfScoreWriter(score).write());
}

}  // namespace loftbeat::music
