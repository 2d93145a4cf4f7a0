#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <vector>

#include "organ/instrument.h"
#include "organ/registration.h"
#include "take/take.h"

namespace loftbeat::organ {

// One thing done at the console.
struct ConsoleMove {
  enum class What { stop, coupler, tremulant, piston, swell, crescendo } what = What::stop;
  std::size_t index = 0;  // into the organ's list; for swell the division; 0 for the crescendo
  double value = 0;       // 0 off, 1 on; for swell and crescendo the position; 1 for a piston
  friend bool operator==(const ConsoleMove&, const ConsoleMove&) = default;
};

// Reads stops, pistons and pedals out of the MIDI stream of one console. Feed the events in
// order; NRPN come in pieces, and the pieces are remembered. Not thread-safe. The organ must
// outlive the reader.
class ConsoleReader {
 public:
  explicit ConsoleReader(const Organ& organ) : organ_(organ) {}

  // What this event moves; mostly nothing. A message mapped to two controls moves both.
  [[nodiscard]] std::vector<ConsoleMove> feed(const take::Event& event);

 private:
  struct Parameter {
    int msb = -1;
    int lsb = -1;
  };
  [[nodiscard]] std::optional<double> crescendo_position(const take::Event& event) const;

  const Organ& organ_;
  std::array<Parameter, 16> nrpn_;
  double crescendo_ = 0;
};

// The registration after the move.
[[nodiscard]] Registration moved(const Organ& organ, Registration before, const ConsoleMove& move);

// The single moves that make one registration of the other: pushed in first, then drawn, then the
// pedals.
[[nodiscard]] std::vector<ConsoleMove> moves_between(const Registration& before,
                                                     const Registration& after);

}  // namespace loftbeat::organ
