// How fast twenty stops under a six-part texture are rendered: bare FluidSynth with the same
// voices, our player dry, and with room and limiter. Processor time of one core; figures only.

#include <benchmark/benchmark.h>
#include <fluidsynth.h>

#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <limits>
#include <memory>
#include <string>
#include <vector>

#include "bench/cpu_time.h"
#include "organ/organ.h"
#include "pipes/pipes.h"
#include "room/read.h"
#include "voice/instrument.h"
#include "voice/performance.h"

namespace loftbeat::bench {
namespace {

using voice::rt::Act;
using voice::rt::kBlockFrames;
using voice::rt::kSampleRate;

constexpr int kStops = 20;
constexpr int kSeconds = 20;
constexpr int kChords = 20;  // one a second
constexpr int kKeys[] = {43, 55, 59, 62, 67, 74};
const std::string kFont = LOFTBEAT_SOUNDFONTS "/ranks.sf2";

// A church of 3600 m3 with stone floor and plaster: some 5 s of reverberation.
constexpr const char* kChurch = R"(volume = 3600
[[surface]]
material = "plaster-on-brick"
area = 1140
[[surface]]
material = "limestone"
area = 160
[[pews]]
area = 200
seats = 300
)";

const pipes::Recipes& recipes() {
  static const pipes::Recipes all = pipes::read_recipes(LOFTBEAT_SOUNDFONTS).value();
  return all;
}

organ::Organ twenty_stops() {
  organ::Organ organ;
  organ.divisions.resize(1);
  organ.divisions[0].name = "Great";
  for (int i = 0; i < kStops; ++i) {
    const pipes::Rank& rank = recipes().ranks[static_cast<std::size_t>(i)];
    organ::Stop stop;
    stop.name = rank.label;
    stop.rank = rank.id;
    stop.feet = rank.family == organ::Family::mixture ? 0 : rank.feet;
    organ.stops.push_back(stop);
  }
  return organ;
}

// Six keys that all move by a semitone up and down, one chord a second, struck anew.
int shift_of(int chord) { return chord % 4 < 2 ? chord % 2 : -(chord % 2); }

voice::Performance texture(const organ::Organ& organ) {
  voice::PerformanceBuilder builder(organ);
  organ::Registration all = organ::empty_registration(organ);
  for (std::size_t i = 0; i < kStops; ++i) all.stops.push_back(i);
  builder.change(0, organ::empty_registration(organ), all);
  for (int chord = 0; chord < kChords; ++chord)
    for (const int key : kKeys)
      builder.hold({std::int64_t{chord} * kSampleRate,
                    std::int64_t{chord + 1} * kSampleRate - kSampleRate / 20, 0,
                    key + shift_of(chord)});
  return builder.finish(std::int64_t{kSeconds} * kSampleRate);
}

double bare_fluidsynth_seconds() {
  fluid_settings_t* settings = new_fluid_settings();
  fluid_settings_setnum(settings, "synth.sample-rate", kSampleRate);
  fluid_settings_setint(settings, "synth.midi-channels", 32);
  fluid_settings_setint(settings, "synth.polyphony", voice::polyphony_for(twenty_stops()));
  fluid_settings_setint(settings, "synth.threadsafe-api", 0);
  fluid_settings_setint(settings, "synth.reverb.active", 0);
  fluid_settings_setint(settings, "synth.chorus.active", 0);
  fluid_synth_t* synth = new_fluid_synth(settings);
  const int font = fluid_synth_sfload(synth, kFont.c_str(), 0);
  const organ::Organ organ = twenty_stops();
  for (int i = 0; i < kStops; ++i) {
    fluid_synth_set_channel_type(synth, i, CHANNEL_TYPE_MELODIC);
    fluid_synth_program_select(
        synth, i, font, 0, recipes().find(organ.stops[static_cast<std::size_t>(i)].rank)->program);
  }
  const voice::Performance performance = texture(organ);
  std::vector<float> left(kBlockFrames);
  std::vector<float> right(kBlockFrames);
  std::size_t next = 0;
  const double begin = cpu_seconds();
  for (std::int64_t frame = 0; frame < performance.frames; frame += kBlockFrames) {
    for (;
         next < performance.events.size() && performance.events[next].frame < frame + kBlockFrames;
         ++next) {
      const voice::rt::Event& event = performance.events[next];
      for (int i = 0; i < kStops; ++i) {
        if (event.act == Act::key_down) fluid_synth_noteon(synth, i, event.index, 127);
        if (event.act == Act::key_up) fluid_synth_noteoff(synth, i, event.index);
      }
    }
    std::fill(left.begin(), left.end(), 0.0F);
    std::fill(right.begin(), right.end(), 0.0F);
    float* out[] = {left.data(), right.data()};
    fluid_synth_process(synth, kBlockFrames, 0, nullptr, 2, out);
  }
  const double spent = cpu_seconds() - begin;
  delete_fluid_synth(synth);
  delete_fluid_settings(settings);
  return spent;
}

double our_seconds(const room::Church* church, voice::rt::LimiterUse limiter, std::size_t quantum) {
  const organ::Organ organ = twenty_stops();
  voice::InstrumentOrder order;
  order.organ = &organ;
  order.recipes = &recipes();
  order.soundfont = kFont;
  order.church = church;
  order.limiter = limiter;
  order.quantum = quantum;
  auto player = voice::make_player(order);
  if (!player) {
    std::fprintf(stderr, "%s\n", to_string(player.error()).c_str());
    std::exit(1);
  }
  const voice::Performance performance = texture(organ);
  (*player)->play(performance.events);
  std::vector<float> left(kBlockFrames * 4);
  std::vector<float> right(left.size());
  const double begin = cpu_seconds();
  for (std::int64_t frame = 0; frame < performance.frames;
       frame += static_cast<std::int64_t>(left.size()))
    (*player)->render(left.data(), right.data(), left.size());
  return cpu_seconds() - begin;
}

// The least of several rounds: what else the machine does only ever adds.
class Least {
 public:
  void take(double seconds) { least_ = std::min(least_, seconds); }
  [[nodiscard]] double seconds() const { return least_; }
  [[nodiscard]] double times_real_time() const { return kSeconds / least_; }

 private:
  double least_ = std::numeric_limits<double>::infinity();
};

// One after the other in each round, so that what the machine does besides weighs on all alike.
void twenty_stops_six_parts(benchmark::State& state) {
  using voice::rt::LimiterUse;
  const room::Church church = room::parse_church(kChurch, "bench.church.toml").value();
  Least bare;
  Least dry;
  Least dry_for_playing;
  Least room_for_files;
  Least room_for_playing;
  for (auto _ : state) {
    bare.take(bare_fluidsynth_seconds());
    dry.take(our_seconds(nullptr, LimiterUse::off, 8192));
    dry_for_playing.take(our_seconds(nullptr, LimiterUse::off, 128));
    room_for_files.take(our_seconds(&church, LimiterUse::on, 8192));
    room_for_playing.take(our_seconds(&church, LimiterUse::on, 128));
  }
  state.counters["bare_x"] = bare.times_real_time();
  state.counters["dry_x"] = dry.times_real_time();
  state.counters["dry_live_x"] = dry_for_playing.times_real_time();
  state.counters["dry_to_bare"] = dry.seconds() / bare.seconds();
  state.counters["room_file_x"] = room_for_files.times_real_time();
  state.counters["room_live_x"] = room_for_playing.times_real_time();
}
BENCHMARK(twenty_stops_six_parts)->Unit(benchmark::kMillisecond)->Iterations(5);

}  // namespace
}  // namespace loftbeat::bench

BENCHMARK_MAIN();
