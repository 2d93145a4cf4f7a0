#pragma once

#include <cstdint>
#include <limits>
#include <span>
#include <vector>

#include "follow/onset_table.h"

namespace loftbeat::follow {

// The model: a hidden Markov model whose states are the onsets of the tune, once for each key in
// which it may be played (a layer), and one state for playing that is not the tune. Each played
// note is one observation. Within a pass one mostly stays (the notes of a chord) or goes on;
// jumps cost, most to places where nobody begins. Scores are log odds against a note that has
// nothing to do with the tune. Each state carries, from its best predecessor, when its onset
// began and the speed held so far, so that time counts as well as pitch.

// One played note as the model hears it.
struct Heard {
  Instant at;
  int pitch = 60;
  bool top = false;            // nothing higher was struck within 50 ms on either side
  Nanoseconds gap{0};          // since the note before
  bool after_silence = false;  // nothing had sounded for the length that closes a run
};

// A planned jump: from the end of one stretch of the route to the start of another.
struct Link {
  int from = 0;   // last onset of the earlier stretch
  int to = 0;     // first onset of the later
  int pass = -1;  // the pass of the route in which it is meant, from 0; -1: in any
  bool ends_pass = true;
};

// How a state was reached; kept for every note and state to find the way back.
namespace step_code {
inline constexpr std::uint8_t kNone = 0;
inline constexpr std::uint8_t kStay = 1;
inline constexpr std::uint8_t kAdvance = 1;  // + number of onsets gone on, 1 to kMaxAdvance
inline constexpr int kMaxAdvance = 12;
inline constexpr std::uint8_t kBack = 14;         // one onset back: notes of two chords interleaved
inline constexpr std::uint8_t kJump = 15;         // from the best state of the step before
inline constexpr std::uint8_t kFromOutside = 16;  // from the state outside the tune
inline constexpr std::uint8_t kLink = 20;         // + 2 * link + how many onsets before its end
inline constexpr int kMaxLinks = 100;
}  // namespace step_code

struct Cell {
  double score = -std::numeric_limits<double>::infinity();
  Instant entry{};                       // when the onset began to be played
  double ns_per_tick = 0;                // the speed held so far
  std::uint16_t struck = 0;              // which notes of the chord were struck already
  std::uint16_t struck_before = 0xFFFF;  // the same of the onset before this one
  std::int16_t pass = 0;                 // passes gone through in this run
  std::uint32_t left = 0;                // outside the tune: the state from which it was left
};

// All states after one note. Index layer * onsets + onset; the last is outside the tune.
struct Column {
  std::vector<Cell> cells;
  std::vector<std::uint32_t> active;  // states worth going on from
  std::uint32_t best = 0;
};

// Where one step came from: one code for each state, and the source of all jumps.
struct Trace {
  std::span<std::uint8_t> codes;
  std::uint32_t jump_from = 0;
};

class Lattice {
 public:
  struct Setting {
    std::vector<int> layers = {0};  // semitones added to the written pitch; the first is usual
    std::vector<Link> links;        // at most step_code::kMaxLinks are used
    double ns_per_tick = 50'000;    // at the set tempo
  };
  Lattice(const OnsetTable& table, Setting setting);

  [[nodiscard]] std::size_t states() const { return outside_ + 1; }
  [[nodiscard]] std::uint32_t outside() const { return static_cast<std::uint32_t>(outside_); }
  [[nodiscard]] int onset_of(std::uint32_t state) const { return static_cast<int>(state % width_); }
  [[nodiscard]] int layer_of(std::uint32_t state) const { return static_cast<int>(state / width_); }
  [[nodiscard]] const Setting& setting() const { return setting_; }

  // The first note: it may be any place, best the start.
  void begin(const Heard& note, Column& to, Trace& trace) const;
  // One note further. `from` and `to` are different columns; nothing is allocated after the
  // first use of `to`. Constant memory; time goes with the number of active states.
  void step(const Column& from, const Heard& note, Column& to, Trace& trace) const;

  // The state before `state` on the way back, by the trace of the step that reached it.
  [[nodiscard]] std::uint32_t before(std::uint32_t state, const Trace& trace) const;

 private:
  struct Reach;
  void prepare(Column& to, Trace& trace) const;
  void stay(const Cell& cell, std::uint32_t state, const Heard& note, Reach& reach) const;
  [[nodiscard]] bool hesitated(const Column& from, const Heard& note) const;
  [[nodiscard]] int written_pitch(std::uint32_t state, const Heard& note) const {
    return note.pitch - setting_.layers[static_cast<std::size_t>(layer_of(state))];
  }
  void go_on(const Column& from, std::uint32_t state, const Heard& note, Reach& reach) const;
  [[nodiscard]] double leaving_cost(const Cell& cell, int onset, const Heard& note) const;
  struct LinkWay {
    std::size_t link;
    int before_end;  // 1: the last chord was missed
    std::size_t layer;
  };
  void follow_link(const LinkWay& way, const Column& from, const Heard& note, Reach& reach) const;
  void follow_links(const Column& from, const Heard& note, Reach& reach) const;
  void jump(const Column& from, const Heard& note, Reach& reach) const;
  void outside(const Column& from, const Heard& note, Reach& reach) const;
  void resume(const Cell& away, const Heard& note, Reach& reach) const;
  void hear(const Heard& note, Column& to) const;
  [[nodiscard]] double emission(const Cell& cell, std::uint32_t state, const Heard& note,
                                std::uint16_t& bits) const;
  void finish(Column& to) const;

  const OnsetTable& table_;
  Setting setting_;
  std::size_t width_;
  std::size_t outside_;
  std::vector<double> skip_cost_;  // by onset: leaving it out
  struct JumpTarget {
    std::uint32_t onset;
    double cost;
  };
  std::vector<JumpTarget> jump_targets_;
};

}  // namespace loftbeat::follow
