#pragma once

#include <array>
#include <atomic>
#include <cstddef>
#include <string>
#include <vector>

#include <jack/jack.h>

namespace loftbeat::voice {

// Records what other programs send to the sound device of a JACK server.
class JackRecorder {
 public:
  JackRecorder(const std::string& server, std::size_t most_frames);
  ~JackRecorder();
  JackRecorder(const JackRecorder&) = delete;
  JackRecorder& operator=(const JackRecorder&) = delete;
  [[nodiscard]] bool runs() const { return client_ != nullptr; }
  // Listens to the first program that sends two channels; false until there is one.
  [[nodiscard]] bool connect();
  // After recording: one channel.
  [[nodiscard]] std::vector<float> stop(std::size_t channel);

 private:
  static int process(jack_nframes_t frames, void* self);
  jack_client_t* client_ = nullptr;
  std::array<jack_port_t*, 2> ports_{};
  std::array<std::vector<float>, 2> samples_;
  std::atomic<std::size_t> recorded_{0};
};

}  // namespace loftbeat::voice
