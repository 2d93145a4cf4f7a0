#pragma once

#include <atomic>
#include <cstddef>
#include <cstdint>
#include <memory>
#include <optional>
#include <span>
#include <vector>

#include "voice/rt/console.h"
#include "voice/rt/convolver.h"
#include "voice/rt/event.h"
#include "voice/rt/event_queue.h"
#include "voice/rt/limiter.h"
#include "voice/rt/pipe_source.h"
#include "voice/rt/swell_box.h"

namespace loftbeat::voice::rt {

struct TremulantSpec {
  int division = 0;
  double rate_hz = 6;
  double depth_cents = 8;  // either way
};

// With the pitch the level sways, by so much either way (common practice, no source).
inline constexpr double kTremulantDb = 0.8;

enum class LimiterUse { on, off };

// Everything a Player is made of.
struct PlayerSpec {
  ConsoleSpec console;
  std::vector<std::optional<SwellBoxSpec>> boxes;  // by division; nothing: not enclosed
  std::vector<TremulantSpec> tremulants;
  std::unique_ptr<PipeSource> pipes;
  std::unique_ptr<Convolver> room;  // null: dry
  // Frames rendered at a time without a room (with one its own quantum counts); a multiple of
  // kBlockFrames. More is less work.
  std::size_t quantum = kBlockFrames;
  double direct_gain = 1;  // amplitude of the sound that comes straight, with a room
  double output_gain = 1;  // amplitude, on all that is heard
  LimiterUse limiter = LimiterUse::on;
  float ceiling = 0.891F;  // -1 dB of full scale
  // dB below the volume from which playing rises (at 30 dB a second): the quiet start. 0 = none.
  double quiet_start_db = 0;
};

// Plays: events in, two channels of sound out.
//
//   pipes -> swell box, tremulant by division -> one channel -> room -> volume -> limiter
//
// Rendering goes in steps of the quantum, the pipes in blocks of 64, several at once where nothing
// happens; whatever number of frames render() is asked for, the sound is the same.
//
// render() belongs to the audio thread: no lock, no allocation, no file, no log. post() belongs to
// one other thread. The rest of what is public may be called from any thread. Everything is
// allocated by the constructor.
class Player {
 public:
  explicit Player(PlayerSpec spec);

  // A list of events, sorted by frame, that is played from the first render on. Call it once,
  // before rendering. It must live as long as the player. With loop_frames > 0 the list starts
  // again each time so many frames have passed, all keys let go; events from there on are never
  // reached.
  void play(std::span<const Event> list, std::int64_t loop_frames = 0);

  // Hands over one event; false if the queue is full. Events wait for their frame in the order in
  // which they were handed over.
  [[nodiscard]] bool post(const Event& event) { return queue_.push(event); }

  void render(float* left, float* right, std::size_t frames);

  // Frames that come out later than the events ask: what the limiter looks ahead.
  [[nodiscard]] std::size_t delay_frames() const { return limiting_ ? Limiter::kDelayFrames : 0; }
  [[nodiscard]] std::int64_t frames_rendered() const {
    return told_frames_.load(std::memory_order_relaxed);
  }
  // Pipes that speak; 0 when nothing is held.
  [[nodiscard]] int speaking() const { return told_speaking_.load(std::memory_order_relaxed); }
  // The least gain of the limiter since it was last asked for here, 0 to 1.
  [[nodiscard]] float take_least_gain() {
    return told_gain_.exchange(1.0F, std::memory_order_relaxed);
  }
  [[nodiscard]] std::uint64_t events_refused() const { return queue_.refused(); }
  // How long the room rings after the last pipe.
  [[nodiscard]] std::size_t tail_frames() const { return room_ ? room_->tail_frames() : 0; }

 private:
  struct Sway {
    TremulantSpec spec;
    bool on = false;
    double phase = 0;  // turns
  };
  void carry_out(const Event& event);
  void carry_out_due();
  void restart_loop();
  void sway();
  void bend_divisions();
  [[nodiscard]] double sway_amplitude(std::size_t division) const;
  [[nodiscard]] std::size_t blocks_till_something_happens() const;
  void render_run(float* out, std::size_t blocks);
  void render_division(std::size_t division, float* out, std::size_t blocks);
  void fade_towards_silence(float* out);
  void render_quantum();
  void add_room();
  void set_volume();
  void set_volume(std::size_t block);
  void tell();

  EventQueue queue_;
  std::unique_ptr<PipeSource> pipes_;
  Console console_;
  std::vector<SwellBox> boxes_;  // one for each division ...
  std::vector<bool> enclosed_;   // ... whether it is used or not
  std::vector<Sway> tremulants_;
  std::unique_ptr<Convolver> room_;
  Limiter limiter_;
  bool limiting_;
  double direct_gain_;
  double output_gain_;

  std::span<const Event> list_;
  std::size_t next_ = 0;
  std::int64_t loop_frames_ = 0;
  std::int64_t list_begin_ = 0;  // frame at which the list began (the last time round)
  std::int64_t now_ = 0;         // first frame of the next block

  double volume_db_ = 0;            // wanted now ...
  std::vector<double> volumes_db_;  // ... and in each block of this quantum
  double reached_db_ = 0;           // in force
  double gain_ = 1;                 // the same as amplitude, output gain included
  int silencing_blocks_ = 0;        // > 0: all is fading, events wait
  std::int64_t tail_muted_until_ = 0;
  double tail_gain_ = 1;

  std::vector<float> division_frames_;
  std::vector<float*> divisions_;
  std::vector<double> sway_gain_;  // by division, at the end of the last block
  std::vector<double> sway_cents_;
  std::vector<bool> swaying_;
  std::vector<float> dry_;
  std::vector<float> left_;
  std::vector<float> right_;
  std::size_t ready_;  // frames of left_ and right_ already handed out

  std::atomic<std::int64_t> told_frames_{0};
  std::atomic<int> told_speaking_{0};
  std::atomic<float> told_gain_{1.0F};
};

}  // namespace loftbeat::voice::rt
