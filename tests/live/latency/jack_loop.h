#pragma once

#include <array>
#include <atomic>
#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

#include <jack/jack.h>

namespace loftbeat::live {

// A client of a JACK server that strikes keys and listens to what comes out, both by the server's
// own count of frames: the ruler for what lies between.
class JackLoop {
 public:
  // A stroke: the frame of the server's clock at whose period it was handed over.
  struct Stroke {
    jack_nframes_t frame = 0;
    bool down = false;
  };
  // A cycle of the server: its first frame, and when it reached this client.
  struct Cycle {
    jack_nframes_t frame = 0;
    std::int64_t steady_ns = 0;
  };
  JackLoop(const std::string& server, std::size_t most_frames);
  ~JackLoop();
  JackLoop(const JackLoop&) = delete;
  JackLoop& operator=(const JackLoop&) = delete;
  [[nodiscard]] bool runs() const { return client_ != nullptr; }
  // Listens to the program that sends two channels; false until there is one.
  [[nodiscard]] bool connect_sound();
  // One key down or up, at frame `offset` of the next period.
  void strike(bool down, jack_nframes_t offset);
  // Stops; then what was struck, and what was heard from frame first_frame() on.
  void stop();
  [[nodiscard]] std::vector<Stroke> strokes() const;
  [[nodiscard]] std::vector<float> heard() const;
  [[nodiscard]] std::vector<Cycle> cycles() const;
  [[nodiscard]] jack_nframes_t first_frame() const { return first_frame_; }
  [[nodiscard]] jack_nframes_t period() const { return period_; }
  [[nodiscard]] int xruns() const { return xruns_.load(); }

 private:
  static int process(jack_nframes_t frames, void* self);
  void send(jack_nframes_t frames);
  void record(jack_nframes_t frames);
  void note_cycle();

  static constexpr std::size_t kMostStrokes = 4096;
  static constexpr std::size_t kMostCycles = 1 << 15;  // of 2.67 ms: 87 s
  jack_client_t* client_ = nullptr;
  jack_port_t* midi_ = nullptr;
  jack_port_t* sound_ = nullptr;
  jack_nframes_t period_ = 0;
  jack_nframes_t first_frame_ = 0;
  std::vector<float> samples_;
  std::atomic<std::size_t> recorded_{0};
  std::array<Stroke, kMostStrokes> strokes_{};
  std::atomic<std::size_t> struck_{0};
  std::vector<Cycle> cycles_ = std::vector<Cycle>(kMostCycles);
  std::atomic<std::size_t> cycled_{0};
  std::atomic<int> wanted_{0};  // 0: nothing; else 1 + 2 * offset + (1 if down)
  std::atomic<int> xruns_{0};
};

}  // namespace loftbeat::live
