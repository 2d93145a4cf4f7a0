#include "music/musicxml_spelling.h"

#include <array>

namespace loftbeat::music {
namespace {

struct PlainValue {
  const char* type;
  Tick length;
};

constexpr Tick kWhole = 4 * kTicksPerQuarter;
constexpr std::array<PlainValue, 9> kPlainValues = {{{"breve", 2 * kWhole},
                                                     {"whole", kWhole},
                                                     {"half", kWhole / 2},
                                                     {"quarter", kWhole / 4},
                                                     {"eighth", kWhole / 8},
                                                     {"16th", kWhole / 16},
                                                     {"32nd", kWhole / 32},
                                                     {"64th", kWhole / 64},
                                                     {"128th", kWhole / 128}}};

struct Tuplet {
  int actual;
  int normal;
};
constexpr std::array<Tuplet, 4> kTuplets = {{{1, 1}, {3, 2}, {5, 4}, {7, 4}}};

// `length` with dots, or 0 if it is no whole number of ticks.
Tick dotted(Tick length, int dots) {
  const Tick parts = Tick{1} << dots;
  return length % parts == 0 ? length / parts * (2 * parts - 1) : 0;
}

// Position on the line of fifths (C = 0, G = 1, F = -1) of a key number in a signature.
int place_on_fifths(int pitch, int fifths) {
  const int lowest = fifths - 3;
  const int wanted = (7 * pitch) % 12;  // 7 is its own inverse modulo 12
  const int above = ((wanted - lowest) % 12 + 12) % 12;
  return lowest + above;
}

}  // namespace

SpelledPitch spell(int pitch, int fifths) {
  constexpr std::array<char, 7> kSteps = {'F', 'C', 'G', 'D', 'A', 'E', 'B'};
  const int from_f = place_on_fifths(pitch, fifths) + 1;
  const int alter = from_f >= 0 ? from_f / 7 : -((6 - from_f) / 7);
  const int natural = pitch - alter;
  const int octave = natural >= 0 ? natural / 12 - 1 : -2;
  const auto step = kSteps[static_cast<std::size_t>(from_f - 7 * alter)];
  if (octave < 0) return {step, alter + 12 * octave, 0};
  return {step, alter, octave};
}

std::optional<NoteValue> note_value(Tick length) {
  for (const Tuplet& tuplet : kTuplets) {
    for (int dots = 0; dots <= 2; ++dots) {
      for (const PlainValue& plain : kPlainValues) {
        const Tick full = dotted(plain.length, dots) * tuplet.normal;
        if (full > 0 && full == length * tuplet.actual) {
          return NoteValue{plain.type, dots, tuplet.actual, tuplet.normal};
        }
      }
    }
  }
  return std::nullopt;
}

std::vector<Tick> written_pieces(Tick length, Tick grain) {
  std::vector<Tick> pieces;
  if (note_value(length)) return {length};
  for (const PlainValue& plain : kPlainValues) {
    if (plain.length % grain != 0) continue;
    while (length >= plain.length && !note_value(length)) {
      pieces.push_back(plain.length);
      length -= plain.length;
    }
  }
  if (length > 0) pieces.push_back(length);
  return pieces;
}

}  // namespace loftbeat::music
