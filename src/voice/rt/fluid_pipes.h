#pragma once

#include <bitset>
#include <cstdint>
#include <memory>
#include <string>
#include <vector>

#include "base/result.h"
#include "voice/rt/pipe_source.h"

namespace loftbeat::voice::rt {

// Which sounds a FluidPipes has.
struct FluidSpec {
  struct Stop {
    std::string name;  // for messages
    int division = 0;
    int program = 0;      // preset of bank 0
    double level_db = 0;  // against the SoundFont's own level, -60 to 40
    int octaves_up = 0;   // the rank is played so much higher than the key
  };
  std::string soundfont;  // path
  int divisions = 1;
  std::vector<Stop> stops;
  // Keys at which the SoundFont's samples are played as they were recorded, point by point. There
  // nothing is reckoned between points (but where a tremulant sways, see below), which saves half a
  // voice's time. All others are interpolated by the fourth order.
  std::bitset<kKeys> as_recorded;
  // By division: whether its pitch may be bent. Then nothing is played as recorded there.
  std::vector<bool> bends;
  // Voices that can sound at once, release included: 16 to 16384. When all are taken a further
  // pipe stays silent (and is counted); one that sounds is never taken away.
  int polyphony = 4096;
};

// Pipes by FluidSynth. Each stop has a channel of its own, placed so that the channels of a
// division come out as one sound. A sample comes out at its own amplitude: velocity, volume and
// effects play no part, and everything is panned to one side (pipes are one channel; the room makes
// two). FluidSynth's own effects are off and its lock too.
class FluidPipes : public PipeSource {
 public:
  // Loads the SoundFont. Not for the audio thread. Errors: the file cannot be read, a preset is
  // not in it, too many stops in one division (256 channels in all).
  [[nodiscard]] static Result<std::unique_ptr<FluidPipes>> make(const FluidSpec& spec);
  ~FluidPipes() override;
  FluidPipes(const FluidPipes&) = delete;
  FluidPipes& operator=(const FluidPipes&) = delete;

  // Audio thread.
  void speak(int stop, int key) override;
  void hush(int stop, int key) override;
  void bend(int division, double cents) override;
  void cut_off() override;
  void render(const std::vector<float*>& out, int blocks) override;
  [[nodiscard]] int voices() const;  // that sound now
  [[nodiscard]] std::uint64_t refused() const { return refused_; }

 private:
  struct Synth;
  struct Channel {
    int number = 0;
    int semitones_up = 0;
    bool bends = false;
    int interpolation = 0;  // FluidSynth's number of what is in force for the next voice
  };
  FluidPipes(std::unique_ptr<Synth> synth, const FluidSpec& spec);
  Status set_up_channels(const FluidSpec& spec);
  [[nodiscard]] int pipe_key(int stop, int key) const;
  void set_interpolation(Channel& channel, int pipe);

  std::unique_ptr<Synth> synth_;
  std::vector<Channel> channels_;              // by stop
  std::vector<std::vector<int>> channels_of_;  // by division
  std::vector<float*> outputs_;                // left and right of every division
  std::vector<float> unused_;                  // the side on which nothing sounds
  std::bitset<kKeys> as_recorded_;
  int polyphony_;
  float gain_ = 1;
  std::uint64_t refused_ = 0;
};

}  // namespace loftbeat::voice::rt
