#pragma once

#include <atomic>
#include <cstddef>
#include <cstdint>
#include <vector>

namespace loftbeat::live::rt {

// One click of a list, in frames from the list's start.
struct ClickAt {
  std::int64_t frame = 0;
  bool accent = false;  // first beat of a bar
};

// Clicks, each beginning at exactly its frame: a short knock, higher on the first beat of a bar.
// start() and stop() may be called in any thread; the rest is the audio thread's, and allocates
// nothing.
class Metronome {
 public:
  static constexpr double kPeakDb = -20;  // of full scale, of each click; quiet at first hearing

  // Clicks sorted by frame. `peak_db` -60 to -6.
  Metronome(std::vector<ClickAt> clicks, double sample_rate, double peak_db = kPeakDb);

  // The list begins at frame `frame` of the stream, now or later; what lies before now is silent.
  void start(std::int64_t frame) { wanted_.store(frame, std::memory_order_release); }
  void stop() { wanted_.store(kStopped, std::memory_order_release); }

  // Adds to `frames` frames of both channels, the first of which is frame `first` of the stream.
  void add_to(float* left, float* right, std::size_t frames, std::int64_t first);

 private:
  static constexpr std::int64_t kStopped = INT64_MIN;
  void begin_anew(std::int64_t first);
  void add_click(float* left, float* right, std::size_t frames, std::int64_t first,
                 const ClickAt& click) const;

  std::vector<ClickAt> clicks_;
  std::vector<float> knock_;
  std::vector<float> high_knock_;
  std::atomic<std::int64_t> wanted_{kStopped};
  std::int64_t start_ = kStopped;
  std::size_t next_ = 0;  // first click that has not died away
};

}  // namespace loftbeat::live::rt
