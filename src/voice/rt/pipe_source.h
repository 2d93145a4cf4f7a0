#pragma once

#include <vector>

#include "voice/rt/console.h"

namespace loftbeat::voice::rt {

// What makes the sound of pipes: FluidSynth (fluid_pipes.h), or a stand-in for a test.
// All calls come from the audio thread; none may lock, allocate or log.
class PipeSource : public PipeSink {
 public:
  // The pitch of all pipes of a division, in cents from their own; for tremulants.
  virtual void bend(int division, double cents) = 0;
  // Ends every pipe at once, without its release.
  virtual void cut_off() = 0;
  // Adds the next kBlockFrames frames: out[d] is the sound of division d.
  virtual void render(const std::vector<float*>& out) = 0;
};

}  // namespace loftbeat::voice::rt
