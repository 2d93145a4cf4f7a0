// The level that we predict for a steady chord against the level of the sound file that comes out.
// Source: ITU-R BS.1770 as libebur128 computes it, a library that is not ours.

#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <string>
#include <vector>

#include <ebur128.h>
#include <gtest/gtest.h>
#include <sndfile.h>
#include <unistd.h>

#include "hearing/weighting.h"
#include "organ/organ.h"
#include "pipes/pipe_spectrum.h"
#include "pipes/pipes.h"
#include "voice/voice.h"

namespace loftbeat::voice {
namespace {

constexpr const char* kOrgan = R"(
[[division]]
name = "Great"
[[stop]]
name = "Principal"
division = "Great"
pitch = "8"
family = "principal"
[[stop]]
name = "Octave"
division = "Great"
pitch = "4"
family = "principal"
power = -2.5
[[stop]]
name = "Flute"
division = "Great"
pitch = "8"
family = "open-flute"
[[stop]]
name = "Mixture"
division = "Great"
pitch = "IV"
family = "mixture"
[[stop]]
name = "Trumpet"
division = "Great"
pitch = "8"
family = "reed"
power = 3
)";

pipes::Recipes recipes_of_the_tree() {
  const auto read = pipes::read_recipes(std::string(LOFTBEAT_SOURCE_DIR) + "/soundfonts");
  EXPECT_TRUE(read.ok()) << to_string(read.error());
  return read.ok() ? *read : pipes::Recipes{};
}

// The partials of one stop and key as they leave the player.
void add_partials(const organ::Organ& organ, const organ::Stop& stop, const pipes::Rank& rank,
                  int key, std::vector<hearing::Partial>& partials) {
  const pipes::Zone& zone = pipes::zone_of(key);
  const pipes::SteadySound sound = pipes::steady_sound(rank, zone);
  const double cents = 100.0 * (key - zone.root) + pipes::key_cents(rank, key);
  const double gain = dry_gain_db(organ, stop);
  for (const pipes::SteadySound::Line& line : sound.lines)
    partials.push_back(
        {sound.hz(line) * std::exp2(cents / 1200), 10 * std::log10(line.power) + gain});
  // The wind is far below the tone; all of it is put at its lower end.
  if (sound.noise_power > 0)
    partials.push_back({sound.noise_from_hz, 10 * std::log10(sound.noise_power) + gain});
}

double measured_lufs(const std::string& path, double skip_seconds, double seconds) {
  SF_INFO info{};
  SNDFILE* file = sf_open(path.c_str(), SFM_READ, &info);
  EXPECT_NE(file, nullptr);
  ebur128_state* meter = ebur128_init(2, 48000, EBUR128_MODE_I);
  std::vector<float> frames(static_cast<std::size_t>(2 * 48000 * seconds));
  sf_seek(file, static_cast<sf_count_t>(48000 * skip_seconds), SEEK_SET);
  const auto read = sf_readf_float(file, frames.data(), static_cast<sf_count_t>(48000 * seconds));
  sf_close(file);
  ebur128_add_frames_float(meter, frames.data(), static_cast<std::size_t>(read));
  double level = 0;
  ebur128_loudness_global(meter, &level);
  ebur128_destroy(&meter);
  return level;
}

TEST(KLevel, PredictedAndRenderedChordsAgreeWithin02Lu) {
  const auto organ = organ::parse_organ(kOrgan, "test.organ.toml");
  ASSERT_TRUE(organ.ok()) << to_string(organ.error());
  const pipes::Recipes all = recipes_of_the_tree();
  const std::string path =
      (std::filesystem::temp_directory_path() / ("loftbeat-k-" + std::to_string(getpid()) + ".wav"))
          .string();
  // Ranks differ by a cent or two, so they beat once in a few seconds: half a minute of a chord has
  // the power of them all.
  constexpr double kSeconds = 31;
  constexpr std::size_t kFlute = 2;
  std::vector<std::vector<std::size_t>> registrations = {{0, kFlute}, {0, 1, 3}, {0},   {kFlute},
                                                         {4},         {3},       {0, 1}};
  if (std::getenv("LOFTBEAT_QUICK") != nullptr) registrations.resize(2);
  for (const std::vector<std::size_t>& stops : registrations) {
    organ::Registration drawn = organ::empty_registration(*organ);
    drawn.stops = stops;
    const auto chord = perform_chord(*organ, drawn, "C3 G3 E4 C5", kSeconds);
    ASSERT_TRUE(chord.ok());
    InstrumentOrder order;
    order.organ = &*organ;
    order.recipes = &all;
    order.soundfont = std::string(LOFTBEAT_SOURCE_DIR) + "/soundfonts/ranks.sf2";
    order.limiter = rt::LimiterUse::off;
    auto player = make_player(order);
    ASSERT_TRUE(player.ok()) << to_string(player.error());
    (*player)->play(chord->events);
    const auto rendered = render_to_file(**player, chord->frames, path, nullptr);
    ASSERT_TRUE(rendered.ok()) << to_string(rendered.error());
    std::vector<hearing::Partial> partials;
    std::string names;
    for (const std::size_t s : stops) {
      const organ::Stop& stop = organ->stops[s];
      names += (names.empty() ? "" : " + ") + stop.name;
      for (const int key : {48, 55, 64, 72})
        add_partials(*organ, stop, *all.find(stop.rank), key, partials);
    }
    // The same in both channels: twice the power.
    const double predicted = hearing::k_weighted_level(partials) + 10 * std::log10(2.0);
    const double measured = measured_lufs(path, 1, kSeconds - 1.1);
    std::printf("%-40s predicted %7.2f LUFS, measured %7.2f\n", names.c_str(), predicted, measured);
    EXPECT_NEAR(measured, predicted, 0.2) << names;
  }
  std::filesystem::remove(path);
}

}  // namespace
}  // namespace loftbeat::voice
