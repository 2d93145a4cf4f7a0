// The choir in the audio thread: timing, loudness of its parts, nothing that jumps.

#include "crowd/rt/choir.h"

#include <algorithm>
#include <cmath>
#include <vector>

#include <gtest/gtest.h>

#include "crowd/voices.h"

namespace loftbeat::crowd {
namespace {

using rt::Choir;
using rt::Sing;

std::vector<float> render(Choir& choir, std::size_t frames, std::size_t at_once = 256) {
  std::vector<float> left(frames);
  std::vector<float> right(frames);
  for (std::size_t at = 0; at < frames; at += at_once)
    choir.render(left.data() + at, right.data() + at, std::min(at_once, frames - at));
  return left;
}

double rms(const std::vector<float>& sound, std::size_t from, std::size_t to) {
  double sum = 0;
  for (std::size_t i = from; i < to; ++i)
    sum += static_cast<double>(sound[i]) * static_cast<double>(sound[i]);
  return std::sqrt(sum / static_cast<double>(to - from));
}

rt::ChoirSpec choir_of(int people, std::uint64_t seed = 1) {
  return make_choir({people, room::Effort::raised, seed});
}

TEST(Voices, WavesHaveMeanSquareOne) {
  for (const Vowel* vowel : {&kMens, &kWomens})
    for (const int pitch : {36, 48, 60, 72, 88}) {
      const rt::Wave wave = sung_wave(*vowel, room::Effort::raised, pitch, 1);
      double sum = 0;
      for (std::size_t i = 0; i < rt::kWaveFrames; ++i)
        sum += static_cast<double>(wave[i]) * static_cast<double>(wave[i]);
      EXPECT_NEAR(sum / rt::kWaveFrames, 1, 1e-5);
      EXPECT_EQ(wave[rt::kWaveFrames], wave[0]);
    }
}

// The header's worked numbers; the standard's own figures at the middles of its bands (spectrum
// levels of ANSI S3.5 `raised`: 38.78 dB at 630 Hz, 22.35 at 2500).
TEST(Voices, AreTheStandardsSpectrumWithFormantsOnIt) {
  const auto db = [](const Vowel& vowel, double hz) {
    return 10 * std::log10(vowel_power(vowel, room::Effort::raised, hz));
  };
  const Vowel flat = {{{1e6, 1}, {1e6, 1}, {1e6, 1}, {1e6, 1}}};
  const Vowel lone = {{{1e6, 1}, {1e6, 1}, {700, 80}, {1e6, 1}}};
  EXPECT_NEAR(db(flat, 1000 * std::pow(10.0, -0.2)) - db(flat, 1000 * std::pow(10.0, 0.4)),
              38.78 - 22.35, 0.02);
  EXPECT_NEAR(db(lone, 700) - db(flat, 700), 12, 1e-3);
  EXPECT_NEAR(db(lone, 780) - db(flat, 780), 6, 1e-3);
  EXPECT_EQ(vowel_power(flat, room::Effort::raised, 10'000), 0);
}

// Source: reference figures of ANSI S3.5 `raised` (68.3 dB at 1 m), 10 lg N.
TEST(Voices, LevelOfOneAndOfAHundred) {
  EXPECT_NEAR(level_of_one_db(room::Effort::raised), 59.8, 0.1);
  EXPECT_NEAR(level_of_people_db(room::Effort::raised, 100), 79.8, 0.1);
}

// However many people, however the levels of single ones fall: powers sum up to N times one, cents
// to nothing.
TEST(Voices, PowersSumUpExactly) {
  for (const int people : {1, 2, 7, 48, 49, 300, 2000})
    for (const std::uint64_t seed : {1U, 2U, 3U}) {
      const rt::ChoirSpec spec = choir_of(people, seed);
      double power = 0;
      double cents = 0;
      for (const rt::Person& person : spec.persons) {
        power += (person.left * person.left + person.right * person.right) / 2;
        cents += person.cents;
      }
      EXPECT_EQ(spec.persons.size(), static_cast<std::size_t>(std::min(people, kMostVoices)));
      EXPECT_NEAR(10 * std::log10(power) + kFullScaleDb,
                  level_of_people_db(room::Effort::raised, people), 1e-9);
      EXPECT_NEAR(cents, 0, 1e-9);
    }
}

TEST(Choir, IsSilentUntilItIsToldToSing) {
  Choir choir(choir_of(40));
  const std::vector<float> sound = render(choir, 48000);
  EXPECT_EQ(*std::max_element(sound.begin(), sound.end()), 0);
  EXPECT_EQ(choir.frames_rendered(), 48000);
}

TEST(Choir, SoundsTheSameHoweverManyFramesAreAskedFor) {
  std::vector<std::vector<float>> sounds;
  for (const std::size_t at_once : {1U, 31U, 64U, 333U, 1024U}) {
    Choir choir(choir_of(20));
    ASSERT_TRUE(choir.post({24000, Sing::note, 67, 0}));
    ASSERT_TRUE(choir.post({48000, Sing::note, 69, 0}));
    ASSERT_TRUE(choir.post({72000, Sing::silence, 0, 0}));
    sounds.push_back(render(choir, 96000, at_once));
  }
  for (std::size_t i = 1; i < sounds.size(); ++i) EXPECT_EQ(sounds[i], sounds[0]);
}

TEST(Choir, AddsToWhatIsThere) {
  Choir choir(choir_of(5));
  std::vector<float> left(512, 0.25F);
  std::vector<float> right(512, -0.25F);
  choir.render(left.data(), right.data(), 512);
  EXPECT_EQ(left, std::vector<float>(512, 0.25F));
}

// Half of the people's power is there at the event's frame. One choir's power sways by half and
// more while voices beat, so it is the mean over 60 choirs that is looked at: in 20 ms it is
// uncertain by a tenth or so of the whole, which rises within some 150 ms: 20 ms.
TEST(Choir, ComesInAroundTheFrameAskedFor) {
  constexpr std::int64_t kAsked = 96000;
  std::vector<double> powers(48000);
  double full = 0;
  for (std::uint64_t seed = 1; seed <= 60; ++seed) {
    Choir choir(choir_of(48, seed));
    ASSERT_TRUE(choir.post({kAsked, Sing::note, 67, 0}));
    const std::vector<float> before = render(choir, 91200);
    EXPECT_EQ(rms(before, 0, before.size()), 0);
    const std::vector<float> sound = render(choir, powers.size());
    for (std::size_t i = 0; i < sound.size(); ++i)
      powers[i] += static_cast<double>(sound[i]) * static_cast<double>(sound[i]);
    full += rms(sound, 24000, 48000) * rms(sound, 24000, 48000);
  }
  const auto around = [&](std::size_t at) {
    double sum = 0;
    for (std::size_t i = at - 480; i < at + 480; ++i) sum += powers[i] / 960;
    return sum;
  };
  std::size_t at = 480;
  while (at < 40000 && around(at) < full / 2) at += 48;
  EXPECT_NEAR(static_cast<double>(at + 91200), kAsked, 960);
}

TEST(Choir, IsSilentAgainWhenAllHaveLetGo) {
  Choir choir(choir_of(48));
  ASSERT_TRUE(choir.post({0, Sing::note, 67, 0}));
  ASSERT_TRUE(choir.post({96000, Sing::silence, 0, 0}));
  const std::vector<float> sound = render(choir, 120000);
  const auto gone = static_cast<std::size_t>(96000 + rt::kMostScatterFrames + rt::kDieFrames);
  EXPECT_GT(rms(sound, 80000, 90000), 0);
  EXPECT_EQ(rms(sound, gone, 120000), 0);
}

// Late events sound as soon as they can, and none is lost.
TEST(Choir, SingsLateWhatItIsToldLate) {
  Choir choir(choir_of(10));
  render(choir, 96000);
  ASSERT_TRUE(choir.post({100, Sing::note, 67, 0}));
  const std::vector<float> sound = render(choir, 48000);
  EXPECT_GT(rms(sound, 24000, 48000), 0);
}

// No click: a voice's wave ends at 10 kHz, so whatever lies above comes from edges. The second
// difference of the sound, against that of steady singing, at changes of every kind.
TEST(Choir, NeverClicks) {
  Choir choir(choir_of(3, 4));
  const std::uint8_t pitches[] = {67, 67, 72, 60, 74, 65, 65};
  std::int64_t at = 96000;
  for (const std::uint8_t pitch : pitches) {
    ASSERT_TRUE(choir.post({at, Sing::note, pitch, 0}));
    at += pitch == 60 ? 2000 : 14000;  // one far too short for anybody
  }
  ASSERT_TRUE(choir.post({at, Sing::silence, 0, 0}));
  const std::vector<float> sound = render(choir, static_cast<std::size_t>(at) + 48000);
  double steady = 0;
  {
    Choir same(choir_of(3, 4));
    ASSERT_TRUE(same.post({96000, Sing::note, 74, 0}));
    const std::vector<float> held = render(same, 192000);
    for (std::size_t i = 120002; i < held.size(); ++i)
      steady =
          std::max(steady, std::abs(static_cast<double>(held[i] - 2 * held[i - 1] + held[i - 2])));
  }
  double most = 0;
  for (std::size_t i = 2; i < sound.size(); ++i)
    most =
        std::max(most, std::abs(static_cast<double>(sound[i] - 2 * sound[i - 1] + sound[i - 2])));
  // Two tones of each person at once, at most.
  EXPECT_LT(most, 2 * steady);
}

// Rendering begins 40 dB down and rises by 60 dB a second; a volume of -80 dB is nothing at all.
TEST(Choir, StartsQuietAndFadesWithTheVolume) {
  const auto told = [](Choir& choir) { ASSERT_TRUE(choir.post({0, Sing::note, 67, 0})); };
  Choir choir(choir_of(48));
  told(choir);
  std::vector<float> sound = render(choir, 96000);
  const double full = rms(sound, 72000, 96000);
  EXPECT_LT(rms(sound, 0, 4800), 0.05 * full);
  EXPECT_LT(rms(sound, 12000, 14400), 0.25 * full);
  ASSERT_TRUE(choir.post({0, Sing::volume, 0, rt::kSilentDb}));
  sound = render(choir, 96000);
  for (std::size_t i = 0; i + 4800 < 48000; i += 480)
    EXPECT_LT(rms(sound, i + 2400, i + 4800), 1.5 * rms(sound, i, i + 2400) + 1e-9);
  EXPECT_EQ(rms(sound, 72000, 96000), 0);
}

// A stream that others count: begun at 5,000,000, it is the same sound as from 0; what a gap leaves
// out is made up for, and a count that begins anew leaves nobody waiting.
TEST(Choir, GoesByTheFramesOfAStream) {
  constexpr std::int64_t kBegin = 5'000'000;
  Choir plain(choir_of(8));
  Choir within(choir_of(8));
  ASSERT_TRUE(plain.post({24'000, Sing::note, 67, 0}));
  ASSERT_TRUE(within.post({kBegin + 24'000, Sing::note, 67, 0}));
  std::vector<float> left(480);
  std::vector<float> right(480);
  std::vector<float> expected(480);
  std::vector<float> other(480);
  for (std::int64_t at = 0; at < 96'000; at += 480) {
    for (std::vector<float>* each : {&left, &right, &expected, &other})
      std::fill(each->begin(), each->end(), 0.0F);
    plain.render(expected.data(), other.data(), 480);
    within.render_from(kBegin + at, left.data(), right.data(), 480);
    ASSERT_EQ(left, expected) << at;
  }
  EXPECT_EQ(within.frames_rendered(), kBegin + 96'000);
  ASSERT_TRUE(within.post({kBegin + 200'000, Sing::silence, 0, 0}));
  // 4 seconds are left out: the silence is overdue.
  for (std::int64_t at = 300'000; at < 320'000; at += 480) {
    std::fill(left.begin(), left.end(), 0.0F);
    within.render_from(kBegin + at, left.data(), right.data(), 480);
  }
  EXPECT_EQ(left, std::vector<float>(480));
  ASSERT_TRUE(within.post({24'000, Sing::note, 67, 0}));
  for (std::int64_t at = 0; at < 48'000; at += 480) {
    std::fill(left.begin(), left.end(), 0.0F);
    within.render_from(at, left.data(), right.data(), 480);
  }
  EXPECT_NE(left, std::vector<float>(480));
}

TEST(Choir, AFullQueueRefusesAndCounts) {
  Choir choir(choir_of(2));
  std::uint64_t refused = 0;
  for (int i = 0; i < 1100; ++i) refused += !choir.post({1 << 30, Sing::note, 60, 0});
  EXPECT_EQ(refused, 76U);
  EXPECT_EQ(choir.events_refused(), 76U);
}

}  // namespace
}  // namespace loftbeat::crowd
