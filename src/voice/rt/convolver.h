#pragma once

#include <cstddef>
#include <memory>
#include <vector>

#include "base/result.h"

namespace loftbeat::voice::rt {

// Who works out the later part of the response.
enum class ConvolverPace {
  waits,      // process() waits for the helper threads: every frame is complete. For files.
  real_time,  // process() never waits; a helper that is late leaves a hole in the tail and is
              // counted
};

// One channel in, two out, each with a response of its own: the room. Without delay. The first
// part is worked out in the calling thread, the later ones by helper threads that are woken by a
// semaphore (zita-convolver).
class Convolver {
 public:
  struct Spec {
    std::vector<float> left;  // responses, at most 20 s
    std::vector<float> right;
    std::size_t quantum = 128;  // frames of each process(); a power of two, 64 to 8192
    ConvolverPace pace = ConvolverPace::waits;
  };
  // Not for the audio thread: allocates and starts threads. Errors: out of range, no memory.
  [[nodiscard]] static Result<std::unique_ptr<Convolver>> make(const Spec& spec);
  ~Convolver();
  Convolver(const Convolver&) = delete;
  Convolver& operator=(const Convolver&) = delete;

  // Audio thread. `quantum()` frames. The outputs are written, not added to.
  void process(const float* in, float* left, float* right);

  [[nodiscard]] std::size_t quantum() const { return quantum_; }
  // Frames after which an impulse has died away.
  [[nodiscard]] std::size_t tail_frames() const { return tail_; }
  // Audio thread. How often a helper was late.
  [[nodiscard]] std::size_t late() const { return late_; }

 private:
  struct Engine;
  Convolver(std::unique_ptr<Engine> engine, const Spec& spec);

  std::unique_ptr<Engine> engine_;
  std::size_t quantum_;
  std::size_t tail_;
  bool waits_;
  std::size_t late_ = 0;
};

}  // namespace loftbeat::voice::rt
