// How a pipe begins to speak, and the whole recording put together.

#include "pipes/sample.h"

#include <algorithm>
#include <cmath>
#include <complex>
#include <numbers>

#include "hearing/bands.h"
#include "pipes/seeded.h"
#include "pipes/soundfont.h"

namespace loftbeat::pipes {
namespace {

constexpr double kRate = kSampleRate;
constexpr double kMiddleCHz = 261.6255653;
constexpr double kTwoPi = 2 * std::numbers::pi;
constexpr std::size_t kSteadyBeforeLoop = 32;  // points that are already the loop's
constexpr std::size_t kAfterLoop = 32;
constexpr double kLongestSpeech = 0.5;
constexpr double kSteps = 32768;  // full scale
constexpr double kMostStep = 32767;

double rise(double share) {
  const double u = std::clamp(share, 0.0, 1.0);
  return u * u * (3 - 2 * u);
}

// When a pipe speaks, in points from the beginning of the sample.
struct Course {
  double points = 0;  // from its first sound to its full tone, of one partial
  double late = 0;    // later (+) or earlier (-) for the highest partial
  double most = 1;    // log2 of the highest harmonic
  [[nodiscard]] double start(int harmonic) const {
    const double share = most > 0 ? std::log2(harmonic) / most : 0;
    return late >= 0 ? late * share : late * (share - 1);
  }
  [[nodiscard]] std::size_t whole() const {
    return static_cast<std::size_t>(std::ceil(points + std::abs(late)));
  }
};

Course course_of(const Rank& rank, const SteadySound& sound) {
  const double lowest = *std::min_element(sound.pipe_hz.begin(), sound.pipe_hz.end());
  const double seconds = std::min(
      kLongestSpeech, rank.speech.seconds * std::pow(kMiddleCHz / lowest, rank.speech.fall));
  int highest = 1;
  for (const SteadySound::Line& line : sound.lines) highest = std::max(highest, line.harmonic);
  return {seconds * kRate, rank.speech.upper_late * seconds * kRate, std::log2(highest)};
}

// The partials of the steady tone as they come in. out[i] is i points after the first sound, and
// the loop begins at `loop_at`.
void add_tones(std::vector<double>& out, const Loop& loop, const Course& course, double loop_at) {
  for (const LoopTone& tone : loop.tones) {
    const double start = course.start(tone.harmonic);
    const double turn =
        kTwoPi * static_cast<double>(tone.bin) / static_cast<double>(loop.length.points);
    const auto first = static_cast<std::size_t>(start);
    std::complex<double> z =
        std::polar(tone.amplitude, tone.phase + turn * (static_cast<double>(first) - loop_at));
    const std::complex<double> step = std::polar(1.0, turn);
    for (std::size_t i = first; i < out.size(); ++i) {
      out[i] += z.real() * rise((static_cast<double>(i) - start) / course.points);
      z *= step;
    }
  }
}

// The modes of the pipe's own body, which are no harmonics: they sound while it starts, and die.
void add_modes(std::vector<double>& out, const Rank& rank, const SteadySound& sound,
               const Course& course, Seeded& seeded) {
  constexpr int kModes = 6;
  constexpr double kFaintestModes = -100;
  if (rank.speech.modes_db <= kFaintestModes) return;
  double power = 0;
  for (const SteadySound::Line& line : sound.lines) power += line.power;
  const auto sources = static_cast<double>(sound.pipe_hz.size() * (kModes - 1));
  const double amplitude = std::sqrt(2 * power / sources) *
                           std::pow(10.0, (rank.speech.modes_db - kFullScalePowerDb) / 20);
  for (const double pipe_hz : sound.pipe_hz) {
    for (int n = 2; n <= kModes; ++n) {
      const double hz = n * pipe_hz * (1 + rank.speech.stretch * (n - 1));
      const double phase = kTwoPi * seeded.unit();
      if (hz > kRate / 3) continue;
      for (std::size_t i = 0; i < out.size(); ++i) {
        const double u = static_cast<double>(i) / course.points;
        if (u >= 1) break;
        const double shape = rise(4 * u) * (1 - u) * (1 - u);
        out[i] +=
            amplitude * shape * std::cos(phase + kTwoPi * hz / kRate * static_cast<double>(i));
      }
    }
  }
}

// The wind is heard before the tone, and most while the pipe starts.
void add_wind(std::vector<double>& out, const Rank& rank, const Loop& loop, const Course& course) {
  const double most = std::pow(10.0, rank.speech.chiff_db / 20) - 1;
  const std::size_t period = loop.noise.size();
  const std::size_t shift = period * (out.size() / period + 1) - out.size();
  for (std::size_t i = 0; i < out.size(); ++i) {
    const double u = std::min(1.0, static_cast<double>(i) / course.points);
    out[i] += loop.noise[(i + shift) % period] * rise(8 * u) * (1 + most * (1 - u) * (1 - u));
  }
}

std::int16_t point_of(double value) {
  return static_cast<std::int16_t>(std::lround(std::clamp(value * kSteps, -kMostStep, kMostStep)));
}

}  // namespace

double amplitude_of(double power) {
  return std::numbers::sqrt2 * std::pow(10.0, -kFullScalePowerDb / 20) * std::sqrt(power);
}

Sample make_sample(const Rank& rank, const Zone& zone) {
  const SteadySound sound = steady_sound(rank, zone);
  const Loop loop = make_loop(rank, zone, sound);
  const Course course = course_of(rank, sound);
  std::vector<double> all(course.whole() + kSteadyBeforeLoop);
  Seeded seeded(rank.id, zone.root, -3);
  add_tones(all, loop, course, static_cast<double>(all.size()));
  add_modes(all, rank, sound, course, seeded);
  add_wind(all, rank, loop, course);
  // By now the sound is the loop's; written from the loop it is so to the last bit.
  std::copy(loop.sum.end() - kSteadyBeforeLoop, loop.sum.end(), all.end() - kSteadyBeforeLoop);

  Sample sample;
  sample.loop_start = all.size();
  sample.loop_end = all.size() + loop.sum.size();
  all.insert(all.end(), loop.sum.begin(), loop.sum.end());
  all.insert(all.end(), loop.sum.begin(), loop.sum.begin() + kAfterLoop);
  for (const double value : all) {
    sample.peak = std::max(sample.peak, std::abs(value));
    sample.points.push_back(point_of(value));
  }
  return sample;
}

}  // namespace loftbeat::pipes
