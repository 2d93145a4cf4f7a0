#include "crowd/voices.h"

#include <algorithm>
#include <cmath>

#include "crowd/rt/chance.h"

namespace loftbeat::crowd {
namespace {

constexpr double kVoiceTwoPi = 6.283185307179586;
constexpr std::array<double, 3> kSizes = {0.95, 1.0, 1.05};
constexpr double kHallSquareMetres = 200;

std::vector<rt::Wave> waves_of(const Vowel& vowel, room::Effort effort, double size) {
  std::vector<rt::Wave> waves;
  for (int pitch = rt::kLowestPitch; pitch <= rt::kHighestPitch; ++pitch)
    waves.push_back(sung_wave(vowel, effort, pitch, size));
  return waves;
}

// Spectrum level of the standard, dB per Hz up to a constant.
double standard_db(room::Effort effort, double hz) {
  const room::BandLevels& bands = room::voice_at_1_m(effort);
  const auto density = [&](std::size_t band) {
    return bands[band] - 10 * std::log10(hearing::mid_hz(band));
  };
  const double place = 10 * std::log10(hz / hearing::mid_hz(0));
  const auto below = static_cast<std::size_t>(
      std::clamp(std::floor(place), 0.0, static_cast<double>(hearing::kBandCount) - 2));
  const double share = std::clamp(place - static_cast<double>(below), 0.0, 1.0);
  return (1 - share) * density(below) + share * density(below + 1);
}

// Normal values with a mean of exactly 0.
std::vector<double> about_zero(std::size_t count, double sd, rt::Chance& chance) {
  std::vector<double> values(count);
  double sum = 0;
  for (double& value : values) {
    value = sd * chance.normal();
    sum += value;
  }
  for (double& value : values) value -= sum / static_cast<double>(count);
  return values;
}

}  // namespace

double vowel_power(const Vowel& vowel, room::Effort effort, double hz) {
  double level = standard_db(effort, hz);
  for (const Formant& formant : vowel) {
    const double off = (hz - formant.hz) / formant.bandwidth_hz;
    level += kFormantDb / (1 + off * off);
  }
  const double fade = std::clamp((10'000 - hz) / 2'000, 0.0, 1.0);
  return std::pow(10.0, level / 10) * fade * fade;
}

rt::Wave sung_wave(const Vowel& vowel, room::Effort effort, int pitch, double size) {
  const double hz = 440 * std::exp2((pitch - 69) / 12.0);
  std::array<double, rt::kWaveFrames> sine{};
  for (std::size_t i = 0; i < sine.size(); ++i)
    sine[i] = std::sin(kVoiceTwoPi * static_cast<double>(i) / static_cast<double>(sine.size()));
  std::array<double, rt::kWaveFrames> sum{};
  double power = 0;
  for (std::size_t h = 1; static_cast<double>(h) * hz < 10'000; ++h) {
    const double partial = static_cast<double>(h) * hz;
    // Only the formants move with the size.
    Vowel sized = vowel;
    for (Formant& formant : sized) formant.hz *= size;
    const double amplitude = std::sqrt(vowel_power(sized, effort, partial));
    power += amplitude * amplitude / 2;
    for (std::size_t i = 0; i < sum.size(); ++i)
      sum[i] += amplitude * sine[(h * i) % rt::kWaveFrames];
  }
  rt::Wave wave{};
  for (std::size_t i = 0; i < sum.size(); ++i)
    wave[i] = static_cast<float>(sum[i] / std::sqrt(power));
  wave[rt::kWaveFrames] = wave[0];
  return wave;
}

double level_of_one_db(room::Effort effort) {
  const room::BandLevels bands = room::singing_power(effort, 1);
  double power = 0;
  for (const double level : bands) power += std::pow(10.0, level / 10);
  return 10 * std::log10(power) + 10 * std::log10(4 / kHallSquareMetres);
}

double level_of_people_db(room::Effort effort, int people) {
  return level_of_one_db(effort) + 10 * std::log10(std::max(people, 1));
}

rt::ChoirSpec make_choir(const ChoirOrder& order) {
  rt::Chance chance(order.seed);
  rt::ChoirSpec spec;
  spec.seed = order.seed ^ 0x5EEDULL;
  for (const Vowel* vowel : {&kWomens, &kMens})
    for (const double size : kSizes) spec.voices.push_back(waves_of(*vowel, order.effort, size));
  const auto count = static_cast<std::size_t>(std::clamp(order.people, 1, kMostVoices));
  const std::vector<double> cents = about_zero(count, 15, chance);
  const std::vector<double> late = about_zero(count, 0.030, chance);
  std::vector<double> power(count);
  double sum = 0;
  for (double& one : power) {
    one = std::pow(10.0, 2 * chance.normal() / 10);
    sum += one;
  }
  const double whole =
      std::pow(10.0, (level_of_people_db(order.effort, order.people) - kFullScaleDb) / 10);
  for (std::size_t i = 0; i < count; ++i) {
    rt::Person person;
    person.octave = i % 2 == 0 ? 0 : -1;
    person.voice = (i % 2) * kSizes.size() + i / 2 % kSizes.size();
    person.cents = cents[i];
    person.late_s = late[i];
    person.vibrato_hz = 5 + 1.5 * chance.unit();
    person.vibrato_cents = 5 + 20 * chance.unit();
    const double amplitude = std::sqrt(whole * power[i] / sum);
    // From the middle by up to 25 degrees of the 45 that one channel alone would be.
    const double angle = kVoiceTwoPi / 8 + kVoiceTwoPi / 14.4 * (2 * chance.unit() - 1);
    person.left = amplitude * std::sqrt(2.0) * std::cos(angle);
    person.right = amplitude * std::sqrt(2.0) * std::sin(angle);
    spec.persons.push_back(person);
  }
  if (count == 1) spec.persons[0].left = spec.persons[0].right = std::sqrt(whole);
  return spec;
}

}  // namespace loftbeat::crowd
