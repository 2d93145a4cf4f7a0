#include "voice/rt/fluid_pipes.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include <fluidsynth.h>

#include "voice/rt/event.h"

namespace loftbeat::voice::rt {
namespace {

constexpr int kMostChannels = 256;
constexpr int kFullVelocity = 127;  // key velocity means nothing to a pipe
constexpr int kVoicesOfANote = 16;  // the most that one pipe (a mixture) takes
constexpr int kBendRangeSemitones = 2;
constexpr int kBendCentre = 8192;
constexpr float kLeft = -500;  // thousandths of full width
// FluidSynth's low-pass, open or not, amplifies by half of the 3.01 dB that its Q of 0 takes off.
constexpr double kFilterGainDb = 1.505;

struct SettingsDeleter {
  void operator()(fluid_settings_t* settings) const { delete_fluid_settings(settings); }
};
struct SynthDeleter {
  void operator()(fluid_synth_t* synth) const { delete_fluid_synth(synth); }
};
using Settings = std::unique_ptr<fluid_settings_t, SettingsDeleter>;
using SynthHandle = std::unique_ptr<fluid_synth_t, SynthDeleter>;

Error refuse(std::string why, std::string file, std::string hint) {
  return {ErrorKind::unreadable, std::move(why), std::move(file), 0, 0, std::move(hint)};
}

int most_stops_in_a_division(const FluidSpec& spec) {
  std::vector<int> counts(static_cast<std::size_t>(spec.divisions), 0);
  int most = 1;
  for (const FluidSpec::Stop& stop : spec.stops)
    most = std::max(most, ++counts[static_cast<std::size_t>(stop.division)]);
  return most;
}

bool in_range(const FluidSpec& spec) {
  return spec.divisions >= 1 && spec.divisions <= kMostDivisions &&
         std::all_of(spec.stops.begin(), spec.stops.end(), [&](const FluidSpec::Stop& stop) {
           return stop.division >= 0 && stop.division < spec.divisions;
         });
}

Settings settings_for(const FluidSpec& spec, int channels) {
  Settings settings(new_fluid_settings());
  if (!settings) return settings;
  fluid_settings_setnum(settings.get(), "synth.sample-rate", kSampleRate);
  fluid_settings_setnum(settings.get(), "synth.gain", 1.0);
  fluid_settings_setint(settings.get(), "synth.polyphony", std::clamp(spec.polyphony, 16, 16384));
  fluid_settings_setint(settings.get(), "synth.midi-channels", channels);
  fluid_settings_setint(settings.get(), "synth.audio-channels", spec.divisions);
  fluid_settings_setint(settings.get(), "synth.audio-groups", spec.divisions);
  // With these three, rendering neither locks nor allocates.
  fluid_settings_setint(settings.get(), "synth.threadsafe-api", 0);
  fluid_settings_setint(settings.get(), "synth.reverb.active", 0);
  fluid_settings_setint(settings.get(), "synth.chorus.active", 0);
  fluid_settings_setint(settings.get(), "synth.dynamic-sample-loading", 0);
  fluid_settings_setint(settings.get(), "synth.min-note-length", 0);
  return settings;
}

// The modulators that every SoundFont voice has unless its font says otherwise
// (SoundFont 2.04, 8.4): velocity, volume, pan, pressure and the sends to effects. A pipe knows
// none of them; without them a voice starts quicker and its level is that of its samples. Pitch
// bend stays, for tremulants.
struct DefaultModulator {
  int source;
  int flags;
  int second;
  int second_flags;
  int destination;
};
constexpr int kFalling = FLUID_MOD_CONCAVE | FLUID_MOD_UNIPOLAR | FLUID_MOD_NEGATIVE;
constexpr int kRising = FLUID_MOD_LINEAR | FLUID_MOD_UNIPOLAR | FLUID_MOD_POSITIVE;
constexpr DefaultModulator kDefaultModulators[] = {
    {FLUID_MOD_VELOCITY, FLUID_MOD_GC | kFalling, 0, 0, GEN_ATTENUATION},
    {FLUID_MOD_VELOCITY, FLUID_MOD_GC | FLUID_MOD_LINEAR | FLUID_MOD_UNIPOLAR | FLUID_MOD_NEGATIVE,
     FLUID_MOD_VELOCITY, FLUID_MOD_GC | FLUID_MOD_SWITCH | FLUID_MOD_UNIPOLAR | FLUID_MOD_POSITIVE,
     GEN_FILTERFC},
    {FLUID_MOD_CHANNELPRESSURE, FLUID_MOD_GC | kRising, 0, 0, GEN_VIBLFOTOPITCH},
    {1, FLUID_MOD_CC | kRising, 0, 0, GEN_VIBLFOTOPITCH},
    {7, FLUID_MOD_CC | kFalling, 0, 0, GEN_ATTENUATION},
    {10, FLUID_MOD_CC | FLUID_MOD_LINEAR | FLUID_MOD_BIPOLAR | FLUID_MOD_POSITIVE, 0, 0, GEN_PAN},
    {11, FLUID_MOD_CC | kFalling, 0, 0, GEN_ATTENUATION},
    {91, FLUID_MOD_CC | kRising, 0, 0, GEN_REVERBSEND},
    {93, FLUID_MOD_CC | kRising, 0, 0, GEN_CHORUSSEND},
};

void remove_default_modulators(fluid_synth_t* synth) {
  fluid_mod_t* modulator = new_fluid_mod();
  for (const DefaultModulator& one : kDefaultModulators) {
    fluid_mod_set_source1(modulator, one.source, one.flags);
    fluid_mod_set_source2(modulator, one.second, one.second_flags);
    fluid_mod_set_dest(modulator, one.destination);
    fluid_synth_remove_default_mod(synth, modulator);
  }
  delete_fluid_mod(modulator);
}

}  // namespace

struct FluidPipes::Synth {
  Settings settings;
  SynthHandle handle;
  int font = 0;
};

FluidPipes::FluidPipes(std::unique_ptr<Synth> synth, const FluidSpec& spec)
    : synth_(std::move(synth)),
      channels_of_(static_cast<std::size_t>(spec.divisions)),
      outputs_(2 * static_cast<std::size_t>(spec.divisions)),
      unused_(static_cast<std::size_t>(kMostBlocks) * kBlockFrames),
      as_recorded_(spec.as_recorded),
      polyphony_(std::clamp(spec.polyphony, 16, 16384)) {}

FluidPipes::~FluidPipes() = default;

Result<std::unique_ptr<FluidPipes>> FluidPipes::make(const FluidSpec& spec) {
  if (!in_range(spec)) return refuse("a stop belongs to no division.", "", "");
  const int channels = (most_stops_in_a_division(spec) * spec.divisions + 15) / 16 * 16;
  if (channels > kMostChannels)
    return refuse(
        "an organ may have at most 256 stops, and their number in the largest division "
        "times the number of divisions no more.",
        "", "");
  // FluidSynth writes to standard error on its own; what matters is told by our errors.
  for (int level = FLUID_PANIC; level < LAST_LOG_LEVEL; ++level)
    fluid_set_log_function(level, nullptr, nullptr);
  auto synth = std::make_unique<Synth>();
  synth->settings = settings_for(spec, channels);
  if (synth->settings) synth->handle.reset(new_fluid_synth(synth->settings.get()));
  if (!synth->handle) return refuse("FluidSynth could not be started.", "", "");
  remove_default_modulators(synth->handle.get());
  synth->font = fluid_synth_sfload(synth->handle.get(), spec.soundfont.c_str(), 0);
  if (synth->font == FLUID_FAILED)
    return refuse("cannot be read as a SoundFont.", spec.soundfont,
                  "Build it anew, or name another with --soundfont.");
  std::unique_ptr<FluidPipes> pipes(new FluidPipes(std::move(synth), spec));
  if (Status status = pipes->set_up_channels(spec); !status) return status.error();
  return pipes;
}

// FluidSynth only weakens a channel, so all are weakened by what the loudest is above, and the
// sum is raised again.
Status FluidPipes::set_up_channels(const FluidSpec& spec) {
  fluid_synth_t* synth = synth_->handle.get();
  double loudest = 0;
  for (const FluidSpec::Stop& stop : spec.stops) loudest = std::max(loudest, stop.level_db);
  gain_ = static_cast<float>(std::pow(10.0, (loudest - kFilterGainDb) / 20));
  for (const FluidSpec::Stop& stop : spec.stops) {
    std::vector<int>& group = channels_of_[static_cast<std::size_t>(stop.division)];
    const int channel = static_cast<int>(group.size()) * spec.divisions + stop.division;
    group.push_back(channel);
    const auto division = static_cast<std::size_t>(stop.division);
    channels_.push_back({channel, 12 * stop.octaves_up,
                         division < spec.bends.size() && spec.bends[division],
                         FLUID_INTERP_4THORDER});
    fluid_synth_set_interp_method(synth, channel, FLUID_INTERP_4THORDER);
    fluid_synth_set_channel_type(synth, channel, CHANNEL_TYPE_MELODIC);
    if (fluid_synth_program_select(synth, channel, synth_->font, 0, stop.program) != FLUID_OK)
      return refuse(
          "has no preset " + std::to_string(stop.program) + " for the stop \"" + stop.name + "\".",
          spec.soundfont, "Build the SoundFont anew from the recipes.");
    fluid_synth_set_gen(synth, channel, GEN_PAN, kLeft);
    fluid_synth_pitch_wheel_sens(synth, channel, kBendRangeSemitones);
    fluid_synth_set_gen(synth, channel, GEN_ATTENUATION,
                        static_cast<float>(10 * (loudest - stop.level_db)));
  }
  return {};
}

// The key of the rank; -1 if there is none.
int FluidPipes::pipe_key(int stop, int key) const {
  if (stop < 0 || static_cast<std::size_t>(stop) >= channels_.size()) return -1;
  const int pipe = key + channels_[static_cast<std::size_t>(stop)].semitones_up;
  return pipe >= 0 && pipe < kKeys ? pipe : -1;
}

// A voice keeps what its channel says when it starts.
void FluidPipes::set_interpolation(Channel& channel, int pipe) {
  const bool as_recorded = as_recorded_[static_cast<std::size_t>(pipe)] && !channel.bends;
  const int wanted = as_recorded ? FLUID_INTERP_NONE : FLUID_INTERP_4THORDER;
  if (channel.interpolation == wanted) return;
  channel.interpolation = wanted;
  fluid_synth_set_interp_method(synth_->handle.get(), channel.number, wanted);
}

void FluidPipes::speak(int stop, int key) {
  const int pipe = pipe_key(stop, key);
  if (pipe < 0) return;
  if (voices() + kVoicesOfANote > polyphony_) {
    ++refused_;
    return;
  }
  Channel& channel = channels_[static_cast<std::size_t>(stop)];
  set_interpolation(channel, pipe);
  fluid_synth_noteon(synth_->handle.get(), channel.number, pipe, kFullVelocity);
}

void FluidPipes::hush(int stop, int key) {
  const int pipe = pipe_key(stop, key);
  if (pipe < 0) return;
  fluid_synth_noteoff(synth_->handle.get(), channels_[static_cast<std::size_t>(stop)].number, pipe);
}

void FluidPipes::bend(int division, double cents) {
  constexpr double kSteps = kBendCentre / (100.0 * kBendRangeSemitones);
  const int value =
      std::clamp(kBendCentre + static_cast<int>(std::lround(cents * kSteps)), 0, 16383);
  for (const int channel : channels_of_[static_cast<std::size_t>(division)])
    fluid_synth_pitch_bend(synth_->handle.get(), channel, value);
}

void FluidPipes::cut_off() { fluid_synth_all_sounds_off(synth_->handle.get(), -1); }

int FluidPipes::voices() const { return fluid_synth_get_active_voice_count(synth_->handle.get()); }

void FluidPipes::render(const std::vector<float*>& out, int blocks) {
  const int frames = blocks * kBlockFrames;
  for (std::size_t d = 0; d < channels_of_.size(); ++d) {
    outputs_[2 * d] = out[d];
    outputs_[2 * d + 1] = unused_.data();
  }
  fluid_synth_process(synth_->handle.get(), frames, 0, nullptr, static_cast<int>(outputs_.size()),
                      outputs_.data());
  for (std::size_t d = 0; d < channels_of_.size(); ++d)
    for (int i = 0; i < frames; ++i) out[d][i] *= gain_;
}

}  // namespace loftbeat::voice::rt
