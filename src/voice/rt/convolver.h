#pragma once

#include <cstddef>
#include <memory>
#include <vector>

#include "base/result.h"

namespace loftbeat::voice::rt {

// One channel in, two out, each with a response of its own: the room. Without delay.
//
// All is worked out in the calling thread (zita-convolver in parts of one size: it starts no
// helper threads then, so nothing can come late). The first 2048 samples of the response go in
// parts of the quantum, the rest in parts of 2048: every 2048 frames one process() has the rest to
// do. With a quantum of 2048 and more all parts are as large as it. Worked number: a response of 6
// s is 141 such parts, some 0.6 million complex products then.
class Convolver {
 public:
  struct Spec {
    std::vector<float> left;  // responses, at most 20 s
    std::vector<float> right;
    std::size_t quantum = 128;  // frames of each process(); a power of two, 64 to 8192
  };
  static constexpr std::size_t kTailPart = 2048;

  // Not for the audio thread: allocates. Errors: out of range, no memory.
  [[nodiscard]] static Result<std::unique_ptr<Convolver>> make(const Spec& spec);
  ~Convolver();
  Convolver(const Convolver&) = delete;
  Convolver& operator=(const Convolver&) = delete;

  // Audio thread: no lock, no allocation. `quantum()` frames. The outputs are written, not added
  // to.
  void process(const float* in, float* left, float* right);

  [[nodiscard]] std::size_t quantum() const { return quantum_; }
  // Frames after which an impulse has died away.
  [[nodiscard]] std::size_t tail_frames() const { return longest_; }

 private:
  struct Part;
  explicit Convolver(const Spec& spec);
  void feed_tail(const float* in, float* left, float* right);

  std::unique_ptr<Part> head_;
  std::unique_ptr<Part> tail_;  // null: the head is all
  std::size_t quantum_;
  std::size_t longest_;
  std::size_t fed_ = 0;  // frames of the tail's block that have come in
  std::vector<float> tail_in_;
  std::vector<float> tail_left_;  // what the tail's last block gives, heard now
  std::vector<float> tail_right_;
};

}  // namespace loftbeat::voice::rt
