#pragma once

#include <array>
#include <atomic>
#include <bitset>
#include <cstddef>
#include <cstdint>
#include <memory>
#include <vector>

#include "base/one_way_queue.h"
#include "live/rt/frame_clock.h"
#include "live/rt/key_table.h"
#include "live/rt/message.h"
#include "live/rt/metronome.h"
#include "voice/rt/event_queue.h"
#include "voice/rt/limiter.h"
#include "voice/rt/player.h"

namespace loftbeat::live::rt {

// Sound of others that is mixed in (a crowd that sings, say).
class AddedSound {
 public:
  virtual ~AddedSound() = default;
  // Audio thread: no lock, no allocation. Adds to `frames` frames, the first of which is frame
  // `first` of the stream and is asked for at `now_ns` of the steady clock, smoothed.
  virtual void add_to(float* left, float* right, std::size_t frames, std::int64_t first,
                      std::int64_t now_ns) = 0;
};

// What the audio thread needed for its calls, told to others.
struct StageTimes {
  std::int64_t frame = 0;     // first of the last call
  std::int64_t at_ns = 0;     // when that call belongs, smoothed
  std::int64_t spent_ns = 0;  // what the call took
};

struct StageSpec {
  // Ranks that speak; null: the keyboard has its own voice. Its own limiter should be off, since
  // the sum is limited here.
  std::unique_ptr<voice::rt::Player> player;
  std::vector<MessageQueue*> queues;  // one of each input, for keys; this pops from them
  std::int64_t stamps_begin_ns = 0;   // the steady clock's time from which messages are stamped
  KeyTable keys;
  std::vector<ClickAt> clicks;
  double click_db = Metronome::kPeakDb;
  std::unique_ptr<AddedSound> added;  // null: none
  float ceiling = 0.891F;             // -1 dB of full scale
};

// All that sounds while one plays: keys as they are struck, the stops that the engine moves, the
// metronome. Every key speaks a fixed time after its stamp, one period of the device, so that
// the rhythm is heard as it was played though messages are handed over period by period.
//
// render() is the audio thread's: no lock, no allocation, no file, no log. post() is one other
// thread's. The rest of what is public may be called from any thread.
class Stage {
 public:
  static constexpr double kSampleRate = voice::rt::kSampleRate;
  explicit Stage(StageSpec spec);

  void render(float* left, float* right, std::size_t frames, std::int64_t now_ns);

  // Stops, swell, volume, silence. False if the queue is full.
  [[nodiscard]] bool post(const voice::rt::Event& event) { return moves_.push(event); }
  [[nodiscard]] Metronome& metronome() { return metronome_; }
  // From now on messages are stamped from this time of the steady clock.
  void count_stamps_from(std::int64_t steady_ns) { stamps_begin_ns_.store(steady_ns); }

  // What the last calls took, oldest first; one thread pops.
  using TimesQueue = OneWayQueue<StageTimes, 4096>;
  [[nodiscard]] TimesQueue& times() { return times_; }
  // The frame that the device asks for at that time, and the other way, by the line of the last
  // call. Once begun() is true.
  [[nodiscard]] std::int64_t frame_at(std::int64_t steady_ns) const;
  [[nodiscard]] std::int64_t ns_at(std::int64_t frame) const;
  [[nodiscard]] bool begun() const { return told_origin_ns_.load() != kNotBegun; }
  // Keys that came more than a block too late to speak when they should.
  [[nodiscard]] std::uint64_t late_keys() const { return late_.load(std::memory_order_relaxed); }

 private:
  void take_moves();
  void take_keys(std::size_t period);
  void take_key(const Message& message, std::int64_t frame);
  void release_port(std::uint8_t port, std::int64_t frame);

  std::unique_ptr<voice::rt::Player> player_;
  std::vector<MessageQueue*> queues_;
  std::atomic<std::int64_t> stamps_begin_ns_;
  KeyTable keys_;
  static constexpr std::size_t kPorts = 256;            // all that Message::port can say
  std::vector<std::array<std::bitset<128>, 16>> down_;  // by port, so that none hangs
  Metronome metronome_;
  std::unique_ptr<AddedSound> added_;
  voice::rt::Limiter limiter_;
  FrameClock clock_{kSampleRate};
  std::int64_t frame_ = 0;
  voice::rt::EventQueue moves_;
  TimesQueue times_;
  static constexpr std::int64_t kNotBegun = INT64_MIN;
  std::atomic<std::int64_t> told_origin_ns_{kNotBegun};  // when frame 0 was due, by the line now
  std::atomic<std::uint64_t> late_{0};
};

}  // namespace loftbeat::live::rt
