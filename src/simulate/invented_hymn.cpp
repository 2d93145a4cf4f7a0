#include "simulate/invented_hymn.h"

#include <algorithm>
#include <string>
#include <tuple>
#include <vector>

#include "simulate/invented_harmony.h"

namespace loftbeat::simulate {
namespace {

constexpr Tick kQuarter = kTicksPerQuarter;
// A tune for all voices: B flat 3 to F 5 (common practice, no source).
constexpr int kLowest = 58;
constexpr int kHighest = 77;

// One chord of a phrase: the tune may move within it.
struct Chord {
  Tick begin = 0;  // from the phrase's begin
  Tick length = 0;
  FourParts parts{};
  std::vector<Tick> tune_lengths;  // add up to `length`
  std::vector<int> tune_pitches;
};
using Line = std::vector<Chord>;

class Inventor {
 public:
  Inventor(const HymnShape& shape, std::uint64_t seed)
      : shape_(shape),
        random_(seed, "hymn"),
        tonic_(static_cast<int>(random_.below(12))),
        parts_(tonic_),
        bar_(4 * kQuarter * shape.beats / shape.beat_type),
        upbeat_(ticks_from_quarters(shape.upbeat_quarters)) {
    bars_per_phrase_ = bar_ < 4 * kQuarter && !compound() ? 4 : 2;
  }

  music::Score invent() {
    for (int i = 0; i < shape_.phrases; ++i) lines_.push_back(line(i));
    score_.title = "An invented tune";
    write_bars();
    write_notes();
    score_.keys = {{0, fifths(), false}};
    score_.lyric_verses = shape_.lyric_verses;
    score_.voices = 4;
    score_.staves = 2;
    score_.phrase_source = music::PhraseSource::lyric_lines;
    return std::move(score_);
  }

 private:
  [[nodiscard]] bool compound() const { return shape_.beat_type == 8 && shape_.beats % 3 == 0; }
  [[nodiscard]] Tick phrase_length() const { return bars_per_phrase_ * bar_; }
  [[nodiscard]] int fifths() const {
    const int up = (7 * tonic_) % 12;
    return up > 6 ? up - 12 : up;
  }

  Line line(int index) {
    const bool last = index + 1 == shape_.phrases;
    const int in_four = index % 4;
    const bool again = (shape_.form == PhraseForm::aaba && (in_four == 1 || in_four == 3)) ||
                       (shape_.form == PhraseForm::abab && in_four >= 2);
    if (again && !last) {
      const int from = shape_.form == PhraseForm::aaba ? index - in_four : index - 2;
      return lines_[static_cast<std::size_t>(from)];
    }
    return new_line(last);
  }

  Line new_line(bool last) {
    Line line;
    Tick at = 0;
    if (upbeat_ > 0) at = add_chord(line, at, upbeat_);
    const Tick whole = phrase_length();
    const Tick end_note = closing_length();
    const Tick unit = compound() ? kQuarter * 3 / 2 : kQuarter;
    while (at < whole - end_note) {
      const Tick room = whole - end_note - at;
      // Long notes begin on the bar line or in the middle of the bar.
      const bool on_half = (at - upbeat_) % (2 * unit) == 0;
      const bool two = on_half && room >= 2 * unit && random_.chance(0.2);
      at = add_chord(line, at, std::min(room, two ? 2 * unit : unit));
    }
    close(line, at, whole - at, last);
    return line;
  }

  // The last note of a phrase reaches up to the next upbeat.
  [[nodiscard]] Tick closing_length() const {
    const Tick in_last_bar = bar_ - upbeat_;
    const Tick longest = compound() ? 3 * kQuarter : 3 * kQuarter;
    const Tick unit = compound() ? kQuarter * 3 / 2 : kQuarter;
    Tick length = in_last_bar;
    while (length > longest) length -= 2 * unit;
    return length > 0 ? length : unit;
  }

  // The tune's next step: often near, seldom far, drawn back to the middle of its range.
  int next_step() {
    if (random_.chance(shape_.repeated_share)) return step_;
    const double drawn = random_.uniform();
    int move = drawn < 0.7 ? 1 : drawn < 0.9 ? 2 : 3;
    const int pitch = parts_.scale_pitch(step_);
    const bool down = random_.chance(pitch > 71 ? 0.7 : pitch < 64 ? 0.25 : 0.5);
    if (down) move = -move;
    step_ += move;
    while (parts_.scale_pitch(step_) > kHighest) --step_;
    while (parts_.scale_pitch(step_) < kLowest) ++step_;
    return step_;
  }

  Tick add_chord(Line& line, Tick at, Tick length) {
    Chord chord;
    chord.begin = at;
    chord.length = length;
    const int first = parts_.scale_pitch(next_step());
    chord.parts = parts_.under(first, PartWriter::Place::within, random_);
    const bool divided = length >= kQuarter && random_.chance(shape_.quaver_share);
    const Tick pieces = !divided ? 1 : length % (kQuarter * 3 / 2) == 0 && compound() ? 3 : 2;
    for (Tick i = 0; i < pieces; ++i) {
      chord.tune_lengths.push_back(length / pieces);
      chord.tune_pitches.push_back(i == 0 ? first : passing(chord.parts[1]));
    }
    line.push_back(chord);
    return at + length;
  }

  // A moving note of the tune, kept above the alto.
  int passing(int alto) {
    const int pitch = parts_.scale_pitch(next_step());
    return pitch > alto ? pitch : alto + 2;
  }

  void close(Line& line, Tick at, Tick length, bool last) {
    Chord chord;
    chord.begin = at;
    chord.length = length;
    if (last) {
      const bool upper = step_ > 3 && parts_.scale_pitch(7) <= kHighest;
      step_ = upper || parts_.scale_pitch(0) < kLowest ? 7 : 0;
    } else {
      next_step();
    }
    const auto place = last ? PartWriter::Place::final : PartWriter::Place::within;
    chord.parts = parts_.under(parts_.scale_pitch(step_), place, random_);
    chord.tune_lengths = {length};
    chord.tune_pitches = {chord.parts[0]};
    line.push_back(chord);
  }

  void write_bars() {
    const Tick whole = phrase_length() * shape_.phrases;
    Tick at = 0;
    int number = 1;
    if (upbeat_ > 0) {
      score_.bars.push_back({0, upbeat_, "0", shape_.beats, shape_.beat_type, true});
      at = upbeat_;
    }
    while (at < whole) {
      const Tick length = std::min(bar_, whole - at);
      score_.bars.push_back(
          {at, length, std::to_string(number++), shape_.beats, shape_.beat_type, false});
      at += length;
    }
    score_.length = whole;
  }

  void write_notes() {
    Tick phrase = 0;
    for (const Line& line : lines_) {
      score_.phrases.push_back({{phrase, phrase + phrase_length()}});
      for (const Chord& chord : line) write_chord(chord, phrase);
      if (shape_.fermatas == Fermatas::phrase_ends) {
        score_.fermatas.push_back({phrase + line.back().begin});
      }
      phrase += phrase_length();
    }
    std::sort(score_.notes.begin(), score_.notes.end(),
              [](const music::Note& a, const music::Note& b) {
                return std::tie(a.onset, a.pitch, a.voice) < std::tie(b.onset, b.pitch, b.voice);
              });
  }

  void write_chord(const Chord& chord, Tick phrase) {
    Tick at = phrase + chord.begin;
    for (std::size_t i = 0; i < chord.tune_lengths.size(); ++i) {
      score_.notes.push_back({at, chord.tune_lengths[i], chord.tune_pitches[i], 0, 0});
      at += chord.tune_lengths[i];
    }
    for (int voice = 1; voice < 4; ++voice) {
      const int pitch = chord.parts[static_cast<std::size_t>(voice)];
      score_.notes.push_back({phrase + chord.begin, chord.length, pitch, voice, voice / 2});
    }
  }

  HymnShape shape_;
  Random random_;
  int tonic_;
  PartWriter parts_;
  Tick bar_, upbeat_;
  Tick bars_per_phrase_ = 2;
  int step_ = 0;
  std::vector<Line> lines_;
  music::Score score_;
};

}  // namespace

music::Score invented_hymn(const HymnShape& shape, std::uint64_t seed) {
  return Inventor(shape, seed).invent();
}

HymnShape invented_shape(std::uint64_t seed) {
  Random random(seed, "shape");
  struct Metre {
    int beats, beat_type;
    double upbeat;
  };
  constexpr Metre kMetres[] = {{2, 2, 1}, {3, 4, 1}, {4, 4, 1}, {6, 8, 0.5}};
  const Metre metre = kMetres[random.below(4)];
  HymnShape shape;
  shape.beats = metre.beats;
  shape.beat_type = metre.beat_type;
  shape.upbeat_quarters = random.chance(0.5) ? metre.upbeat : 0;
  shape.phrases = 4 + 2 * static_cast<int>(random.below(3));
  shape.quaver_share = random.between(0, 0.3);
  shape.form = static_cast<PhraseForm>(random.below(3));
  shape.fermatas = random.chance(0.4) ? Fermatas::phrase_ends : Fermatas::none;
  shape.lyric_verses = 0;
  return shape;
}

}  // namespace loftbeat::simulate
