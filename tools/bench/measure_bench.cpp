// How long one registration takes to be measured from stored rank spectra: 20 stops of the organ of
// three manuals under a six-part chord, heard in the full church.

#include <benchmark/benchmark.h>

#include <string>

#include "advise/advise.h"
#include "room/read.h"

namespace loftbeat::advise {
namespace {

const std::string kTree = LOFTBEAT_TREE;

struct Stage {
  organ::Organ organ = *organ::read_organ(kTree + "/sessions/quaverham/minimsby.organ.toml");
  room::Church church = *room::read_church(kTree + "/sessions/quaverham/quaverham.church.toml");
  pipes::Recipes recipes = *pipes::read_recipes(kTree + "/soundfonts");
  StopPowers powers = *StopPowers::make(organ, recipes, pipes::RankPowers(recipes));
  Hall hall = make_hall(church, 150, 150);
  organ::Registration drawn = organ::empty_registration(organ);
  std::vector<organ::Speaking> chord = {{0, 71}, {0, 67}, {0, 62}, {0, 59}, {0, 55}, {3, 43}};

  Stage() {
    for (std::size_t stop = 0; stop < 20; ++stop) drawn.stops.push_back(stop);
    drawn.couplers = {0};  // Swell to Great
    drawn.swell[1] = 0.6;
  }
};

const Stage& stage() {
  static const Stage made;
  return made;
}

void measure_registration(benchmark::State& state) {
  const Stage& s = stage();
  const auto chord = sounding_chord(s.organ, s.drawn, s.chord);
  for (auto _ : state) {
    const Power power = registration_power(s.organ, s.drawn, s.powers, chord);
    benchmark::DoNotOptimize(heard(s.hall, power, {146.8, 587.3}));
  }
}
BENCHMARK(measure_registration)->Unit(benchmark::kMicrosecond);

void registration_power_alone(benchmark::State& state) {
  const Stage& s = stage();
  const auto chord = sounding_chord(s.organ, s.drawn, s.chord);
  for (auto _ : state) {
    benchmark::DoNotOptimize(registration_power(s.organ, s.drawn, s.powers, chord));
  }
}
BENCHMARK(registration_power_alone)->Unit(benchmark::kMicrosecond);

}  // namespace
}  // namespace loftbeat::advise

BENCHMARK_MAIN();
