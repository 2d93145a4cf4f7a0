#include "chance_chorale.h"

#include <algorithm>
#include <array>
#include <tuple>

#include "simulate/random.h"

namespace loftbeat::notate {
namespace {

constexpr Tick kQ = kTicksPerQuarter;
constexpr std::array<int, 7> kScale = {0, 2, 4, 5, 7, 9, 11};

struct Metre {
  int beats, type;
  Tick upbeat;
  double tempo_low, tempo_high;
};
constexpr Metre kMetres[] = {{4, 4, 0, 66, 108},     {4, 4, kQ, 66, 108},   {3, 4, 0, 72, 116},
                             {3, 4, kQ, 72, 116},    {2, 2, 0, 48, 66},     {2, 2, 2 * kQ, 48, 66},
                             {6, 8, kQ / 2, 44, 60}, {4, 4, kQ / 2, 60, 96}};

class Composer {
 public:
  explicit Composer(std::uint64_t seed) : random_(seed, "chance chorale") {
    const Metre& metre = kMetres[random_.below(std::size(kMetres))];
    Setting& s = chorale_.setting;
    s.beats = metre.beats;
    s.beat_type = metre.type;
    s.upbeat = metre.upbeat;
    s.tempo_bpm = random_.between(metre.tempo_low, metre.tempo_high);
    tonic_ = static_cast<int>(random_.below(12));
    unit_ = is_compound(s) ? kQ * 3 / 2 : kQ;
  }

  Chorale compose() {
    const Setting& s = chorale_.setting;
    const Tick bar = bar_length(s);
    const int lines = 4 + 2 * static_cast<int>(random_.below(2));
    const Tick line = (bar <= 3 * kQ && !is_compound(s) ? 4 : 2) * bar;
    for (int i = 0; i < lines; ++i) write_line(i * line, line, i + 1 == lines);
    chorale_.score.length = lines * line;
    chorale_.score.bars = bars_until(s, chorale_.score.length);
    chorale_.score.voices = 4;
    chorale_.score.staves = 2;
    auto& notes = chorale_.score.notes;
    std::sort(notes.begin(), notes.end(), [](const auto& a, const auto& b) {
      return std::tie(a.onset, a.pitch, a.voice) < std::tie(b.onset, b.pitch, b.voice);
    });
    return chorale_;
  }

 private:
  // Scale step to a key; step 0 is the tonic at or above key 60.
  [[nodiscard]] int key(int step) const {
    const int octave = step >= 0 ? step / 7 : -((6 - step) / 7);
    return 60 + (tonic_ > 6 ? tonic_ - 12 : tonic_) + 12 * octave +
           kScale[static_cast<std::size_t>(step - 7 * octave)];
  }

  void write_line(Tick begin, Tick length, bool last) {
    Tick at = 0;
    const Tick close = closing();
    while (at < length - close) {
      // The upbeat, then beats; now and then twice as long.
      Tick span =
          at == 0 && chorale_.setting.upbeat % unit_ != 0 ? chorale_.setting.upbeat % unit_ : unit_;
      if (random_.chance(0.12) && at + 2 * span <= length - close && span == unit_) span *= 2;
      harmony(begin + at, std::min(span, length - close - at), false);
      at += span;
    }
    harmony(begin + length - close, close, last);
  }

  [[nodiscard]] Tick closing() const {
    const Tick bar = bar_length(chorale_.setting);
    const Tick left = bar - chorale_.setting.upbeat;
    if (left <= 3 * kQ) return left;
    return left - 2 * kQ >= kQ ? left - 2 * kQ : left;
  }

  // One chord: soprano walks, the others take the nearest tones below.
  void harmony(Tick at, Tick span, bool final) {
    soprano_ += static_cast<int>(random_.below(5)) - 2;
    while (key(soprano_) > 76) --soprano_;
    while (key(soprano_) < 62) ++soprano_;
    const int degree = final ? 0 : static_cast<int>(random_.below(7));
    // A triad that holds the soprano's step: it is root, third or fifth.
    const int root = ((soprano_ - 2 * (degree % 3)) % 7 + 7) % 7;
    std::array<int, 4> steps{};
    steps[0] = soprano_;
    steps[1] = nearest_tone(alto_, root, soprano_, 56);
    steps[2] = nearest_tone(tenor_, root, steps[1], 49);
    steps[3] = bass_tone(root, steps[2]);
    alto_ = steps[1], tenor_ = steps[2], bass_ = steps[3];
    for (std::size_t v = 0; v < 4; ++v) part(v, at, span, steps, final);
  }

  // The chord tone nearest to where the part was, below `roof` (seldom on it: a unison) and, if
  // the chord has one there, not below `floor`.
  [[nodiscard]] int nearest_tone(int from, int root, int roof, int floor) {
    const bool unison = random_.chance(0.04) && std::abs(roof - from) <= 2;
    int best = roof - 2, least = 1000;
    for (int step = unison ? roof : roof - 1; step > roof - 8; --step) {
      const int above = ((step - root) % 7 + 7) % 7;
      if (above != 0 && above != 2 && above != 4) continue;
      const int off =
          std::abs(step - from) + (key(step) < floor ? 20 : 0) - (unison && step == roof ? 50 : 0);
      if (off < least) least = off, best = step;
    }
    return best;
  }
  // The root or the third, an octave and more below the middle; seldom the tenor's own note.
  [[nodiscard]] int bass_tone(int root, int roof) {
    int step = root - 14;
    while (key(step) < 40) step += 7;
    if (random_.chance(0.3)) step += 2;
    while (step >= roof) step -= 7;
    if (random_.chance(0.04) && roof - bass_ <= 3) step = roof;
    return step;
  }

  // What a part does with its span: one note, two quavers, dotted, or it is held from before.
  void part(std::size_t v, Tick at, Tick span, const std::array<int, 4>& steps, bool final) {
    const int pitch = key(steps[v]);
    Open& open = open_[v];
    // Held over: the same note goes on (a suspension, a pedal), over bar lines too.
    const auto same =
        std::count_if(steps.begin(), steps.end(), [&](int step) { return key(step) == pitch; });
    if (open.pitch == pitch && same == 1 && !final && random_.chance(v == 0 ? 0.06 : 0.3)) {
      chorale_.score.notes[open.index].length += span;
      return;
    }
    const bool whole = final || (span != unit_ && span != 2 * unit_);
    const double drawn = whole ? 1 : random_.uniform();
    const int next = key(passing(v, steps));
    const bool compound = is_compound(chorale_.setting) && span == unit_;
    if (drawn < (v == 0 ? 0.16 : 0.09)) {  // passing
      const Tick first = compound ? kQ : span / 2;
      add(v, at, first, pitch);
      add(v, at + first, span - first, next);
    } else if (drawn < (v == 0 ? 0.24 : 0.11) && span == 2 * unit_) {  // dotted
      add(v, at, span * 3 / 4, pitch);
      add(v, at + span * 3 / 4, span / 4, next);
    } else {
      add(v, at, span, pitch);
    }
  }
  [[nodiscard]] int passing(std::size_t v, const std::array<int, 4>& steps) {
    const int step = steps[v] + (random_.chance(0.5) ? 1 : -1);
    if (v > 0 && step >= steps[v - 1]) return steps[v] - 1;
    if (v < 3 && step <= steps[v + 1]) return steps[v] + 1;
    return step;
  }
  void add(std::size_t v, Tick at, Tick length, int pitch) {
    open_[v] = {pitch, chorale_.score.notes.size()};
    chorale_.score.notes.push_back(
        {at, length, pitch, static_cast<int>(v), static_cast<int>(v) / 2});
  }

  struct Open {
    int pitch = -1;
    std::size_t index = 0;
  };
  simulate::Random random_;
  Chorale chorale_;
  int tonic_ = 0;
  Tick unit_ = kQ;
  int soprano_ = 5, alto_ = 2, tenor_ = -2, bass_ = -9;
  std::array<Open, 4> open_;
};

}  // namespace

Chorale chance_chorale(std::uint64_t seed) { return Composer(seed).compose(); }

}  // namespace loftbeat::notate
