#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "base/base.h"
#include "organ/organ.h"
#include "voice/rt/event.h"

namespace loftbeat::voice {

// What is to be heard, as timed events for one organ: keys, stops, swell pedals. Times are frames
// of 1/48000 s from the start (rt/event.h). All values; no clock, no device.

// A place to start from.
struct Mark {
  std::int64_t frame = 0;
  std::string pass;  // "play-over", "1" ...
  std::string bar;   // as printed
};

struct Performance {
  std::vector<rt::Event> events;  // sorted by frame; at one frame: releases, stops, strikes
  std::int64_t frames = 0;        // when the last key is released, or the music would go on
  std::vector<Mark> marks;        // sorted
  std::vector<Notice> notices;
};

[[nodiscard]] constexpr std::int64_t frames_from_seconds(double seconds) {
  return static_cast<std::int64_t>(seconds * rt::kSampleRate + 0.5);
}
[[nodiscard]] constexpr double seconds_from_frames(std::int64_t frames) {
  return static_cast<double>(frames) / rt::kSampleRate;
}

// One key held down, [on, off).
struct HeldKey {
  std::int64_t on = 0;
  std::int64_t off = 0;
  int division = 0;
  int key = 60;
};

// Puts a performance together; order of calls does not matter.
class PerformanceBuilder {
 public:
  explicit PerformanceBuilder(const organ::Organ& organ) : organ_(organ) {}
  // Keys outside the division's compass, or off before on, are left out.
  void hold(const HeldKey& key);
  // Everything that sounds in one of the two and not in the other is moved at that frame.
  void change(std::int64_t frame, const organ::Registration& before,
              const organ::Registration& after);
  void add(const rt::Event& event) { events_.push_back(event); }
  // Sorts, and ends at `frames` or with the last event if that is later.
  [[nodiscard]] Performance finish(std::int64_t frames);

 private:
  void move(std::int64_t frame, rt::Act act, std::size_t index);
  const organ::Organ& organ_;
  std::vector<rt::Event> events_;
};

// The performance from `frame` on: what is drawn and held there is drawn and struck at once, time
// counts from there. At or after the end nothing is left but the stops.
[[nodiscard]] Performance from_frame(const Performance& performance, std::int64_t frame);

// The performance so many times as fast, 0.1 to 10: pitches stay.
[[nodiscard]] Performance at_speed(Performance performance, double times);

// The performance with everything after `frames` cut off and all keys released there.
[[nodiscard]] Performance cut_at(const Performance& performance, std::int64_t frames);

}  // namespace loftbeat::voice
