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
  // Adds the next `blocks` blocks (1 to kMostBlocks) of kBlockFrames frames, in which no pipe
  // begins or ends: out[d] is the sound of division d. The same sound comes out one block at a
  // time; more at once take less work, since each sample is read for longer.
  virtual void render(const std::vector<float*>& out, int blocks) = 0;
};

}  // namespace loftbeat::voice::rt
