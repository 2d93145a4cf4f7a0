// What is reckoned of a registration (advise::registration_power) against an analysis of the sound
// file that comes out of src/voice, dry: third octaves and sharpness.
// Source: none outside; the analysis is by the filters of ISO 532-1 and by DIN 45692, which have
// reference tests of their own (reference_hearing).

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstdint>
#include <cstdlib>
#include <filesystem>
#include <span>
#include <string>
#include <utility>
#include <vector>

#include <gtest/gtest.h>
#include <sndfile.h>
#include <unistd.h>

#include "advise/sounding.h"
#include "beats.h"
#include "hearing/hearing.h"
#include "pipes/pipes.h"
#include "voice/voice.h"

namespace loftbeat::voice {
namespace {

// A chord held for half a minute, each pipe coming in at an instant of its own. Ranks differ by a
// cent or two, so that most of their beats average out in that time.
constexpr int kChord[] = {48, 55, 64, 72};
constexpr double kComeIn = 0.3;   // s in which pipes come in
constexpr double kSettle = 1.0;   // s until all pipes speak and the filters have settled
constexpr double kListen = 30.0;  // s analysed

// Bands weaker than this against the strongest hold rounding and interpolation noise besides
// (tests/reference/pipes/power_test.cpp).
constexpr double kWeakBandDb = -45;
// A band is held to 0.5 dB if its beats are expected to come to no more than a third of that.
constexpr double kBeatsDb = 0.16;

const pipes::Recipes& recipes() {
  static const pipes::Recipes all =
      pipes::read_recipes(std::string(LOFTBEAT_SOURCE_DIR) + "/soundfonts").value();
  return all;
}

struct Registration {
  std::string name;
  std::vector<std::string> ranks;
};
std::vector<Registration> registrations() {
  std::vector<Registration> some = {
      {"principal 8", {"principal-8"}},
      {"trumpet 8", {"reed-8"}},
      {"principals 8 4 2", {"principal-8", "principal-4", "principal-2"}},
      {"principal and flute 8", {"principal-8", "open-flute-8"}},
      {"foundations 8",
       {"principal-8", "open-flute-8", "stopped-flute-8", "string-8", "celeste-8"}},
      {"chorus with mixture",
       {"principal-16", "principal-8", "principal-4", "principal-2-2-3", "principal-2",
        "mixture-iv"}},
      {"twenty stops", {}}};
  for (std::size_t i = 0; i < 20; ++i) some.back().ranks.push_back(recipes().ranks[i].id);
  return some;
}

// Each rank a stop in a division of its own, so that each pipe can come in by itself.
organ::Organ organ_of(const Registration& registration) {
  organ::Organ organ;
  for (const std::string& id : registration.ranks) {
    const pipes::Rank& rank = *recipes().find(id);
    organ::Stop stop;
    stop.name = rank.label;
    stop.rank = rank.id;
    stop.division = organ.divisions.size();
    stop.feet = rank.family == organ::Family::mixture ? 0 : rank.feet;
    organ.stops.push_back(stop);
    organ.divisions.emplace_back();
    organ.divisions.back().name = rank.label;
  }
  return organ;
}

organ::Registration all_drawn(const organ::Organ& organ) {
  organ::Registration drawn = organ::empty_registration(organ);
  for (std::size_t i = 0; i < organ.stops.size(); ++i) drawn.stops.push_back(i);
  return drawn;
}

// A number from 0 to 1 that is the same in every run.
double spread(std::size_t of) { return std::fmod(static_cast<double>(of + 1) * 0.6180339887, 1.0); }

Performance held_chord(const organ::Organ& organ) {
  PerformanceBuilder builder(organ);
  builder.change(0, organ::empty_registration(organ), all_drawn(organ));
  const std::int64_t end = frames_from_seconds(kSettle + kListen);
  std::size_t struck = 0;
  for (std::size_t division = 0; division < organ.divisions.size(); ++division)
    for (const int key : kChord)
      builder.hold(
          {frames_from_seconds(kComeIn * spread(++struck)), end, static_cast<int>(division), key});
  return builder.finish(end);
}

std::vector<float> left_of(const std::string& path) {
  SF_INFO info{};
  SNDFILE* file = sf_open(path.c_str(), SFM_READ, &info);
  EXPECT_NE(file, nullptr) << path;
  if (file == nullptr) return {};
  std::vector<float> both(static_cast<std::size_t>(info.frames * info.channels));
  sf_readf_float(file, both.data(), info.frames);
  sf_close(file);
  std::vector<float> left;
  for (std::size_t i = 0; i < both.size(); i += 2) left.push_back(both[i]);
  return left;
}

std::vector<float> rendered(const organ::Organ& organ, const Performance& performance) {
  const auto folder = std::filesystem::temp_directory_path();
  const std::string path =
      (folder / ("loftbeat-bands-" + std::to_string(getpid()) + ".wav")).string();
  InstrumentOrder order;
  order.organ = &organ;
  order.recipes = &recipes();
  order.soundfont = std::string(LOFTBEAT_SOURCE_DIR) + "/soundfonts/ranks.sf2";
  order.limiter = rt::LimiterUse::off;
  order.quantum = 8192;
  auto player = make_player(order);
  EXPECT_TRUE(player.ok()) << to_string(player.error());
  (*player)->play(performance.events);
  const auto written = render_to_file(**player, performance.frames, path, nullptr);
  EXPECT_TRUE(written.ok()) << to_string(written.error());
  std::vector<float> sound = left_of(path);
  std::filesystem::remove(path);
  return sound;
}

// Sound power in third octaves, dB re 1 pW, while the chord stands.
hearing::BandLevels analysed(std::vector<float> sound) {
  for (float& sample : sound) sample *= 20e-6F;  // an RMS of 1 reads 0 dB
  const std::span<const float> all(sound);
  const auto settle = static_cast<std::size_t>(frames_from_seconds(kSettle));
  hearing::FilterBank bank;
  bank.skip(all.first(settle));
  bank.feed(all.subspan(settle, static_cast<std::size_t>(frames_from_seconds(kListen))));
  return hearing::raised(bank.take_levels(), kFullScaleSplDb + kDryLossDb);
}

double sharpness(const hearing::BandLevels& power) {
  const auto heard = hearing::raised(power, -kDryLossDb);
  return hearing::sharpness_acum(hearing::loudness(heard, hearing::SoundField::diffuse))
      .value_or(0);
}

struct Told {
  int held = 0;
  int left_out = 0;
  double worst = 0;
};

Told compare(const std::string& name, const hearing::BandLevels& told,
             const hearing::BandLevels& heard, const hearing::BandLevels& beats) {
  Told result;
  const double strongest = *std::max_element(told.begin(), told.end());
  std::string apart;
  for (std::size_t band = 0; band < told.size(); ++band) {
    if (told[band] < strongest + kWeakBandDb) continue;
    const double off = heard[band] - told[band];
    if (beats[band] > kBeatsDb) {
      ++result.left_out;
      char text[64];
      std::snprintf(text, sizeof text, " %g Hz %+.2f (+-%.2f)", hearing::kNominalHz[band], off,
                    beats[band]);
      apart += text;
      EXPECT_LE(std::abs(off), 0.5 + 4 * beats[band]) << name << " " << hearing::kNominalHz[band];
      continue;
    }
    EXPECT_LE(std::abs(off), 0.5) << name << ", " << hearing::kNominalHz[band] << " Hz, told "
                                  << told[band];
    result.worst = std::max(result.worst, std::abs(off));
    ++result.held;
  }
  std::printf("%-24s %2d third octaves, the worst %.2f dB off; beats:%s\n", name.c_str(),
              result.held, result.worst, apart.empty() ? " none" : apart.c_str());
  return result;
}

TEST(RegistrationPower, IsWhatIsRenderedWithinHalfADecibelAThirdOctave) {
  const pipes::RankPowers rank_powers(recipes());
  const bool quick = std::getenv("LOFTBEAT_QUICK") != nullptr;
  const std::vector<Registration> all = registrations();
  int held = 0;
  int left_out = 0;
  for (std::size_t i = 0; i < all.size(); i += quick ? 4 : 1) {
    const organ::Organ organ = organ_of(all[i]);
    const auto powers = advise::StopPowers::make(organ, recipes(), rank_powers);
    ASSERT_TRUE(powers.ok()) << to_string(powers.error());
    std::vector<advise::Sounding> sounding;
    std::vector<PipeKey> pipes;
    for (const organ::Stop& stop : organ.stops) {
      for (const int key : kChord) {
        sounding.push_back({{stop.division, key}, 1});
        pipes.push_back({recipes().find(stop.rank), key});
      }
    }
    const auto told =
        advise::levels_of(advise::registration_power(organ, all_drawn(organ), *powers, sounding));
    const auto heard = analysed(rendered(organ, held_chord(organ)));
    const Told result = compare(all[i].name, told, heard, expected_beats_db(pipes, kListen));
    held += result.held;
    left_out += result.left_out;
    EXPECT_NEAR(sharpness(heard) / sharpness(told), 1, 0.05) << all[i].name;
    std::printf("%24s sharpness %.3f acum told, %.3f heard\n", "", sharpness(told),
                sharpness(heard));
  }
  std::printf("%d third octaves within 0.5 dB, %d in which slow beats are heard\n", held, left_out);
  EXPECT_GT(held, left_out);
}

}  // namespace
}  // namespace loftbeat::voice
