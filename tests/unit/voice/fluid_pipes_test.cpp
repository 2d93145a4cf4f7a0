#include "voice/rt/fluid_pipes.h"

#include <cmath>
#include <vector>

#include <gtest/gtest.h>

#include "tiny_soundfont.h"
#include "voice/rt/event.h"

namespace loftbeat::voice::rt {
namespace {

using Sound = std::vector<std::vector<float>>;  // by division

Sound render(FluidPipes& pipes, int divisions, int blocks) {
  Sound sound(static_cast<std::size_t>(divisions),
              std::vector<float>(static_cast<std::size_t>(blocks) * kBlockFrames));
  for (int b = 0; b < blocks; ++b) {
    std::vector<float*> out;
    out.reserve(sound.size());
    for (auto& division : sound) out.push_back(division.data() + b * kBlockFrames);
    pipes.render(out, 1);
  }
  return sound;
}

double rms(const std::vector<float>& samples, std::size_t from = 0) {
  double sum = 0;
  for (std::size_t i = from; i < samples.size(); ++i)
    sum += static_cast<double>(samples[i]) * static_cast<double>(samples[i]);
  return std::sqrt(sum / static_cast<double>(samples.size() - from));
}

FluidSpec two_divisions(const std::string& path) {
  FluidSpec spec;
  spec.soundfont = path;
  spec.divisions = 2;
  spec.stops = {{"Great one", 0, 0, 0, 0}, {"Swell one", 1, 0, -6, 0}, {"Great two", 0, 0, 9, 1}};
  return spec;
}

TEST(FluidPipes, EachDivisionComesOutByItselfAtItsStopsLevel) {
  const TinySoundFontFile file;
  const auto pipes = FluidPipes::make(two_divisions(file.path()));
  ASSERT_TRUE(pipes.ok()) << to_string(pipes.error());
  const double sine = kTinyAmplitude / std::sqrt(2.0);
  const auto level_of = [&](int stop, std::size_t division) {
    (*pipes)->speak(stop, 60);
    const Sound sound = render(**pipes, 2, 600);
    (*pipes)->cut_off();
    EXPECT_LT(rms(sound[1 - division]), 1e-7);
    return 20 * std::log10(rms(sound[division], 9600) / sine);
  };
  EXPECT_NEAR(level_of(0, 0), 0, 0.05);
  EXPECT_NEAR(level_of(1, 1), -6, 0.05);
  EXPECT_NEAR(level_of(2, 0), 9, 0.05);
}

TEST(FluidPipes, SoundsTheKeyAndTheOctaveOfTheRank) {
  const TinySoundFontFile file;
  const auto pipes = FluidPipes::make(two_divisions(file.path()));
  ASSERT_TRUE(pipes.ok());
  const auto hertz = [&](int stop) {
    (*pipes)->speak(stop, 69);
    const std::vector<float> sound = render(**pipes, 2, 750)[0];  // 1 s
    (*pipes)->cut_off();
    int rises = 0;
    for (std::size_t i = 1; i < sound.size(); ++i)
      rises += sound[i - 1] < 0 && sound[i] >= 0 ? 1 : 0;
    return rises;
  };
  // Source: ISO 16, A4 = 440 Hz.
  EXPECT_NEAR(hertz(0), 440, 2);
  EXPECT_NEAR(hertz(2), 880, 2);
}

TEST(FluidPipes, NeverStealsAVoiceAndCountsWhatItRefuses) {
  const TinySoundFontFile file;
  FluidSpec spec = two_divisions(file.path());
  spec.polyphony = 40;
  const auto pipes = FluidPipes::make(spec);
  ASSERT_TRUE(pipes.ok());
  for (int key = 36; key < 96; ++key) (*pipes)->speak(0, key);
  render(**pipes, 2, 4);
  const int sounding = (*pipes)->voices();
  EXPECT_GE(sounding, 24);
  EXPECT_EQ((*pipes)->refused(), static_cast<std::uint64_t>(60 - sounding));
  // The first ones still sound.
  for (int key = 37; key < 96; ++key) (*pipes)->hush(0, key);
  render(**pipes, 2, 400);
  EXPECT_GT(rms(render(**pipes, 2, 100)[0]), 0.01);
}

TEST(FluidPipes, TellsWhatIsWrongWithASoundfont) {
  FluidSpec spec = two_divisions("/nowhere/at/all.sf2");
  const auto missing = FluidPipes::make(spec);
  ASSERT_FALSE(missing.ok());
  EXPECT_NE(to_string(missing.error()).find("/nowhere/at/all.sf2"), std::string::npos);
  const TinySoundFontFile file;
  spec = two_divisions(file.path());
  spec.stops[1].program = 77;
  const auto no_preset = FluidPipes::make(spec);
  ASSERT_FALSE(no_preset.ok());
  EXPECT_NE(to_string(no_preset.error()).find("no preset 77 for the stop \"Swell one\""),
            std::string::npos);
  spec.stops.assign(200, {"many", 0, 0, 0, 0});
  EXPECT_FALSE(FluidPipes::make(spec).ok());
  spec.stops.assign(1, {"stray", 5, 0, 0, 0});
  EXPECT_FALSE(FluidPipes::make(spec).ok());
}

}  // namespace
}  // namespace loftbeat::voice::rt
