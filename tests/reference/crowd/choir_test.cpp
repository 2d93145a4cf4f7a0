// The people's sound against tools that are not ours: aubio for its pitch, libebur128 for its
// level, FFTW for its formants.

#include <array>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <vector>

#include <ebur128.h>
#include <fftw3.h>
#include <gtest/gtest.h>

#include "crowd/rt/choir.h"
#include "crowd/voices.h"
#include "rendered.h"

namespace loftbeat::crowd {
namespace {

using pipes::isolated;
using pipes::middle_by_fftw;
using pipes::pitch_by_aubio;

struct Sound {
  std::vector<float> left;
  std::vector<float> right;
};

bool quick() { return std::getenv("LOFTBEAT_QUICK") != nullptr; }

// One note held, from two seconds after its beginning.
Sound held(rt::ChoirSpec spec, int pitch, double seconds) {
  rt::Choir choir(std::move(spec));
  EXPECT_TRUE(choir.post({0, rt::Sing::note, static_cast<std::uint8_t>(pitch), 0}));
  Sound skipped{std::vector<float>(96000), std::vector<float>(96000)};
  choir.render(skipped.left.data(), skipped.right.data(), 96000);
  const auto frames = static_cast<std::size_t>(seconds * 48000);
  Sound sound{std::vector<float>(frames), std::vector<float>(frames)};
  choir.render(sound.left.data(), sound.right.data(), frames);
  return sound;
}

double hz_of(int pitch) { return 440 * std::exp2((pitch - 69) / 12.0); }
double cents(double hz, double of) { return 1200 * std::log2(hz / of); }

// One person without vibrato: his own pitch to a cent. Source: equal temperament on A4 = 440 Hz
// (ISO 16); aubio measures.
TEST(ChoirPitch, OfOnePersonIsWithinACentByAubio) {
  for (const int pitch : {60, 67, 72, 76})
    for (const int octave : {0, -1}) {
      rt::ChoirSpec spec = make_choir({1, room::Effort::raised, 1});
      spec.persons[0].octave = octave;
      spec.persons[0].voice = octave == 0 ? 0 : 3;
      spec.persons[0].cents = 12;
      spec.persons[0].vibrato_cents = 0;
      const double hz = hz_of(pitch + 12 * octave) * std::exp2(12.0 / 1200);
      const Sound sound = held(spec, pitch, 2);
      EXPECT_NEAR(cents(pitch_by_aubio(isolated(sound.left, hz)), hz), 0, 1) << pitch << octave;
    }
}

// Many: the middle of the power around the tune's pitch and an octave below (FFTW), since voices
// that differ are not one tone to a pitch detector. Their own pitches have the mean 0 over all;
// women alone and men alone stray by 15 / sqrt(24) = 3 cents, and uneven levels make that 4 cents:
// three times that.
TEST(ChoirPitch, OfManyLiesInTheMiddleInBothOctaves) {
  double worst = 0;
  const std::uint64_t seeds = quick() ? 1 : 8;
  for (std::uint64_t seed = 1; seed <= seeds; ++seed)
    for (const int pitch : {62, 69, 74}) {
      const Sound sound = held(make_choir({100, room::Effort::raised, seed}), pitch, 8);
      for (const double hz : {hz_of(pitch), hz_of(pitch - 12)}) {
        const double off = cents(middle_by_fftw(sound.left, hz), hz);
        EXPECT_NEAR(off, 0, 12) << pitch << " at " << hz;
        worst = std::max(worst, std::abs(off));
      }
    }
  std::printf("choir of 100: at worst %.1f cents off the pitch\n", worst);
}

double lufs(const Sound& sound) {
  ebur128_state* meter = ebur128_init(2, 48000, EBUR128_MODE_I);
  std::vector<float> both(2 * sound.left.size());
  for (std::size_t i = 0; i < sound.left.size(); ++i) {
    both[2 * i] = sound.left[i];
    both[2 * i + 1] = sound.right[i];
  }
  ebur128_add_frames_float(meter, both.data(), sound.left.size());
  double level = 0;
  ebur128_loudness_global(meter, &level);
  ebur128_destroy(&meter);
  return level;
}

// 10 lg N: +3.01 dB for each doubling. Source: incoherent addition (text-book law); measured
// K-weighted by libebur128. Tolerance: half of the 1 dB that is hardly noticed (common practice, no
// source); a choir whose voices beat has no level more certain than some tenths of a dB in ten
// seconds, hence the means over seeds.
TEST(ChoirLevel, RisesByThreeDecibelsADoubling) {
  const int seeds = quick() ? 2 : 8;
  double before = 0;
  double first = 0;
  for (const int people : {2, 4, 8, 16, 32, 64, 128, 256}) {
    double mean = 0;
    for (int seed = 1; seed <= seeds; ++seed)
      mean +=
          lufs(held(make_choir({people, room::Effort::raised, static_cast<std::uint64_t>(seed)}),
                    69, 10)) /
          seeds;
    if (people == 2) first = mean;
    std::printf("%3d people: %.2f LUFS, %+.2f dB\n", people, mean, people == 2 ? 0 : mean - before);
    const double law = first + 10 * std::log10(people / 2.0);
    if (!quick()) {
      EXPECT_NEAR(mean, law, 0.5) << people;
    } else {
      EXPECT_NEAR(mean, law, 1.0) << people;  // a quarter of the seeds: twice the scatter
    }
    before = mean;
  }
}

double mean_square(const std::vector<float>& sound) {
  double sum = 0;
  for (const float sample : sound) sum += static_cast<double>(sample) * static_cast<double>(sample);
  return sum / static_cast<double>(sound.size());
}

// Source: ANSI S3.5 `raised` (68.3 dB at 1 m) by the hall's 4 / A, as in voices.h; 60 people.
TEST(ChoirLevel, IsTheStandardsInAHallOfTwoHundredSquareMetres) {
  const int seeds = quick() ? 2 : 8;
  double power = 0;
  for (int seed = 1; seed <= seeds; ++seed) {
    const Sound sound =
        held(make_choir({60, room::Effort::raised, static_cast<std::uint64_t>(seed)}), 67, 10);
    power += (mean_square(sound.left) + mean_square(sound.right)) / 2 / seeds;
  }
  EXPECT_NEAR(10 * std::log10(power) + 112, 68.3 + 11 - 2.5 - 16.99 + 17.78, 0.5);
}

// Power from `low` to `high`, Hz, over windows of a third of a second (FFTW, Hann).
double band_power(const std::vector<float>& sound, double low, double high) {
  constexpr int kSize = 16384;
  auto* in = static_cast<double*>(fftw_malloc(sizeof(double) * kSize));
  auto* out = static_cast<fftw_complex*>(fftw_malloc(sizeof(fftw_complex) * (kSize / 2 + 1)));
  const fftw_plan plan = fftw_plan_dft_r2c_1d(kSize, in, out, FFTW_ESTIMATE);
  double power = 0;
  for (std::size_t at = 0; at + kSize <= sound.size(); at += kSize / 2) {
    for (int i = 0; i < kSize; ++i)
      in[i] = static_cast<double>(sound[at + static_cast<std::size_t>(i)]) *
              (0.5 - 0.5 * std::cos(2 * M_PI * i / kSize));
    fftw_execute(plan);
    for (int k = 0; k <= kSize / 2; ++k) {
      const double hz = 48000.0 * k / kSize;
      if (hz >= low && hz < high) power += out[k][0] * out[k][0] + out[k][1] * out[k][1];
    }
  }
  fftw_destroy_plan(plan);
  fftw_free(in);
  fftw_free(out);
  return power;
}

// A scale's worth of notes, each by itself.
std::vector<Sound> scale(const rt::ChoirSpec& spec) {
  std::vector<Sound> sounds;
  for (const int pitch : {57, 59, 60, 62, 64, 65, 67, 69, 71, 72, 74})
    sounds.push_back(held(spec, pitch, 2));
  return sounds;
}

double band_db(const std::vector<Sound>& sounds, double low, double high) {
  double power = 0;
  for (const Sound& sound : sounds) power += band_power(sound.left, low, high);
  return 10 * std::log10(power);
}

// Men alone: spectrum levels at the vowel's formants stand above those between them. Source:
// formants of an open vowel (from memory, voices.h). Nothing lies above 10 kHz but what a wave
// table's linear interpolation leaves.
TEST(ChoirSpectrum, HasTheFormantsOfTheVowelAndEndsAtTenKilohertz) {
  rt::ChoirSpec spec = make_choir({40, room::Effort::raised, 1});
  for (rt::Person& person : spec.persons) {
    person.octave = -1;
    person.voice = 4;
  }
  const std::vector<Sound> sounds = scale(spec);
  // Power per Hz.
  const auto density = [&](double hz) {
    return band_db(sounds, hz / 1.06, hz * 1.06) - 10 * std::log10(0.12 * hz);
  };
  const double valley_between = density(850);
  const double above = density(1700);
  const double edge = band_db(sounds, 10'500, 24'000) - band_db(sounds, 100, 10'000);
  std::printf(
      "men, power per Hz: 400 Hz %.1f, 650 Hz %.1f, 850 Hz %.1f, 1080 Hz %.1f, 1700 Hz %.1f, "
      "2450 Hz %.1f, 3000 Hz %.1f dB; above 10.5 kHz %.1f dB of all\n",
      density(400), density(650), valley_between, density(1080), above, density(2450),
      density(3000), edge);
  EXPECT_GT(density(650), density(400) + 3);
  EXPECT_GT(density(650), valley_between + 3);
  EXPECT_GT(density(1080), valley_between + 2);
  EXPECT_GT(density(1080), above + 6);
  EXPECT_GT(density(2450), above + 2);
  EXPECT_GT(density(2450), density(3000) + 3);
  EXPECT_LT(edge, -60);
}

// All together, octave by octave against the standard's spectrum, which is what loudness and
// masking are reckoned with. Source: ANSI S3.5-1997 `raised`. One vowel with its formants (12 dB,
// some 100 Hz wide) is not the mean of all: 5 dB. The choir's long-term spectrum is strongest
// about 500 to 700 Hz (choir acoustics course notes, after Ternstroem).
TEST(ChoirSpectrum, FollowsTheStandardsVoice) {
  const std::vector<Sound> sounds = scale(make_choir({200, room::Effort::raised, 1}));
  const room::BandLevels& standard = room::voice_at_1_m(room::Effort::raised);
  std::array<double, 5> ours{};
  std::array<double, 5> theirs{};
  const std::array<double, 5> middles = {251.19, 501.19, 1000, 1995.3, 3981.1};
  double all_ours = 0;
  double all_theirs = 0;
  for (std::size_t i = 0; i < middles.size(); ++i) {
    ours[i] =
        std::pow(10.0, band_db(sounds, middles[i] / std::sqrt(2), middles[i] * std::sqrt(2)) / 10);
    for (std::size_t band = 9 + 3 * i; band < 12 + 3 * i; ++band)
      theirs[i] += std::pow(10.0, standard[band] / 10);
    all_ours += ours[i];
    all_theirs += theirs[i];
  }
  for (std::size_t i = 0; i < middles.size(); ++i) {
    const double off = 10 * std::log10(ours[i] / all_ours * all_theirs / theirs[i]);
    std::printf("octave of %.0f Hz: %+.1f dB against the standard\n", middles[i], off);
    EXPECT_NEAR(off, 0, 5) << middles[i];
  }
  EXPECT_GT(ours[1], ours[0]);
  EXPECT_GT(ours[1], ours[2]);
}

}  // namespace
}  // namespace loftbeat::crowd
