// Source of the record layouts, generator numbers and implicit modulators: SoundFont technical
// specification 2.04, sections 7, 8.1 and 8.4.

#include "pipes/sf2_records.h"

#include <algorithm>
#include <cmath>

#include "pipes/pipe_spectrum.h"
#include "pipes/pitch.h"
#include "pipes/soundfont.h"

namespace loftbeat::pipes {
namespace {

enum Generator {
  kVibratoToPitch = 6,
  kFilterCutoff = 8,
  kRelease = 38,
  kInstrument = 41,
  kKeyRange = 43,
  kAttenuation = 48,
  kFineTune = 52,
  kSampleId = 53,
  kSampleModes = 54,
  kRootKey = 58,
};
constexpr unsigned kLoop = 1;  // through the release too
constexpr unsigned kMono = 1;
constexpr std::size_t kName = 20;

// Sources of the implicit modulators (8.2).
constexpr unsigned kVelocityConcave = 0x0502;
constexpr unsigned kVelocityLinear = 0x0102;
constexpr unsigned kModulationWheel = 0x0081;
constexpr unsigned kChannelPressure = 0x000D;

unsigned amount(int value) { return static_cast<unsigned>(value) & 0xFFFFU; }

int release_timecents(const Rank& rank, int root) {
  constexpr double kMiddleCHz = 261.6255653;
  const std::vector<double> pipes = intended_hz(rank, root);
  const double lowest = *std::min_element(pipes.begin(), pipes.end());
  const double seconds =
      std::clamp(rank.speech.release_seconds * std::sqrt(kMiddleCHz / lowest), 0.03, 2.0);
  return static_cast<int>(std::lround(1200 * std::log2(seconds)));
}

// The key that sounds nearest to the first pipe.
int nearest_key(const Rank& rank, int root) {
  return static_cast<int>(std::lround(69 + 12 * std::log2(intended_hz(rank, root).front() / 440)));
}

std::string pitch_name(int key) {
  constexpr const char* kNames[] = {"C",  "C#", "D",  "D#", "E",  "F",
                                    "F#", "G",  "G#", "A",  "A#", "B"};
  return kNames[key % 12] + std::to_string(key / 12 - 1);
}

}  // namespace

void Sf2Records::generator(int number, unsigned value) {
  igen_.u16(static_cast<unsigned>(number));
  igen_.u16(value);
  ++instrument_generators_;
}

// The same source and destination with the amount 0 takes the place of an implicit modulator.
void Sf2Records::cancel(unsigned source, int destination) {
  imod_.u16(source);
  imod_.u16(static_cast<unsigned>(destination));
  imod_.s16(0);
  imod_.u16(0);
  imod_.u16(0);
  ++modulators_;
}

void Sf2Records::instrument_bag() {
  ibag_.u16(instrument_generators_);
  ibag_.u16(modulators_);
  ++instrument_bags_;
}

void Sf2Records::begin_rank(const Rank& rank) {
  phdr_.name(rank.label, kName);
  phdr_.u16(static_cast<unsigned>(rank.program));
  phdr_.u16(0);
  phdr_.u16(presets_);
  for (int i = 0; i < 3; ++i) phdr_.u32(0);
  pbag_.u16(presets_);
  pbag_.u16(0);
  pgen_.u16(kInstrument);
  pgen_.u16(presets_);
  ++presets_;

  inst_.name(rank.label, kName);
  inst_.u16(instrument_bags_);
  instrument_bag();  // the global zone
  generator(kSampleModes, kLoop);
  cancel(kVelocityConcave, kAttenuation);
  cancel(kVelocityLinear, kFilterCutoff);
  cancel(kModulationWheel, kVibratoToPitch);
  cancel(kChannelPressure, kVibratoToPitch);
}

void Sf2Records::add_zone(const Rank& rank, const Zone& zone, const Place& place) {
  for (int key = zone.lowest; key <= zone.highest; ++key) {
    instrument_bag();
    generator(kKeyRange, static_cast<unsigned>(key) * 0x101U);
    generator(kRelease, amount(release_timecents(rank, zone.root)));
    if (const int cents = key_cents(rank, key); cents != 0) generator(kFineTune, amount(cents));
    generator(kRootKey, static_cast<unsigned>(zone.root));
    generator(kSampleId, samples_);
  }
  // Long ids are cut off at the end; what tells samples apart stands before it.
  const std::string name =
      std::to_string(rank.program) + " " + pitch_name(zone.root) + " " + rank.id;
  shdr_.name(name, kName);
  shdr_.u32(static_cast<std::uint32_t>(place.start));
  shdr_.u32(static_cast<std::uint32_t>(place.end));
  shdr_.u32(static_cast<std::uint32_t>(place.loop_start));
  shdr_.u32(static_cast<std::uint32_t>(place.loop_end));
  shdr_.u32(kSampleRate);
  shdr_.u8(nearest_key(rank, zone.root));
  shdr_.u8(0);
  shdr_.u16(0);
  shdr_.u16(kMono);
  ++samples_;
}

std::string Sf2Records::finish() {
  phdr_.name("EOP", kName);
  phdr_.u16(0);
  phdr_.u16(0);
  phdr_.u16(presets_);
  for (int i = 0; i < 3; ++i) phdr_.u32(0);
  pbag_.u16(presets_);
  pbag_.u16(0);
  pgen_.u32(0);
  inst_.name("EOI", kName);
  inst_.u16(instrument_bags_);
  instrument_bag();
  imod_.raw(std::string(10, '\0'));
  igen_.u32(0);
  shdr_.name("EOS", kName);
  shdr_.raw(std::string(26, '\0'));
  return list("LIST", "pdta",
              chunk("phdr", phdr_.text()) + chunk("pbag", pbag_.text()) +
                  chunk("pmod", std::string(10, '\0')) + chunk("pgen", pgen_.text()) +
                  chunk("inst", inst_.text()) + chunk("ibag", ibag_.text()) +
                  chunk("imod", imod_.text()) + chunk("igen", igen_.text()) +
                  chunk("shdr", shdr_.text()));
}

}  // namespace loftbeat::pipes
