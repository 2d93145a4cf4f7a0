#pragma once

#include <array>
#include <cstdint>
#include <vector>

namespace loftbeat::voice::rt {

inline constexpr int kKeys = 128;
inline constexpr int kMostDivisions = 20;
inline constexpr int kMostStops = 500;
inline constexpr int kMostCouplers = 500;

// The playing parts of an organ, as far as sound needs them. Indexes are those of the organ file.
struct ConsoleSpec {
  struct Division {
    int lowest_key = 0;  // keys outside are not there
    int highest_key = kKeys - 1;
  };
  struct Stop {
    int division = 0;
  };
  // Keys pressed on `keyboard` also play the pipes of `pipes`, `semitones` higher.
  struct Coupler {
    int keyboard = 0;
    int pipes = 0;
    int semitones = 0;
  };
  std::vector<Division> divisions;  // at most kMostDivisions
  std::vector<Stop> stops;          // at most kMostStops
  std::vector<Coupler> couplers;    // at most kMostCouplers
};

// What a console makes speak.
class PipeSink {
 public:
  virtual ~PipeSink() = default;
  virtual void speak(int stop, int key) = 0;
  virtual void hush(int stop, int key) = 0;
};

// Keys, stops and couplers, and which pipes speak by them.
//
// 1. A pipe is one stop and one key of its division. It speaks while its stop is drawn and at
//    least one key, its own or one coupled to it, is down; it is told once when that begins and
//    once when it ends, however many keys hold it.
// 2. Stops and couplers work under held keys.
// 3. A coupler passes on keys that are pressed, not keys that another coupler holds.
// 4. A key pressed twice (from two keyboards on one channel, say) needs two releases.
// 5. What is out of range does nothing.
// Audio thread; allocates nothing after construction.
class Console {
 public:
  // `sink` must live longer.
  Console(ConsoleSpec spec, PipeSink& sink);

  void key_down(int division, int key);
  void key_up(int division, int key);
  void draw_stop(int stop);
  void push_in_stop(int stop);
  void draw_coupler(int coupler);
  void push_in_coupler(int coupler);
  void release_keys();
  void clear_stops();

  [[nodiscard]] bool drawn(int stop) const { return drawn_[static_cast<std::size_t>(stop)]; }
  // How many pipes speak.
  [[nodiscard]] int speaking() const { return speaking_; }
  [[nodiscard]] const ConsoleSpec& spec() const { return spec_; }

 private:
  using KeyCounts = std::array<std::uint16_t, kKeys>;
  [[nodiscard]] bool has_key(int division, int key) const;
  void hold(int division, int key);
  void let_go(int division, int key);
  void couple(const ConsoleSpec::Coupler& coupler, int key);
  void uncouple(const ConsoleSpec::Coupler& coupler, int key);
  void begin(int stop, int key);
  void end(int stop, int key);

  ConsoleSpec spec_;
  PipeSink& sink_;
  std::array<KeyCounts, kMostDivisions> pressed_{};  // by keyboard
  std::array<KeyCounts, kMostDivisions> held_{};     // by division of pipes: own and coupled
  std::array<bool, kMostStops> drawn_{};
  std::array<bool, kMostCouplers> coupled_{};
  std::vector<std::vector<int>> stops_of_;  // by division
  int speaking_ = 0;
};

}  // namespace loftbeat::voice::rt
