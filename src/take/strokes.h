#pragma once

#include <cstdint>
#include <vector>

#include "take/slots.h"
#include "take/take.h"

namespace loftbeat::take {

// One strike of one key of one slot as it came, before hygiene: what findings are drawn from.
struct Stroke {
  Instant on;
  Instant off;  // the next release of the key, or its next strike, on the same slot; else the end
  std::uint16_t slot = 0;
  std::uint8_t key = 0;
  std::uint8_t velocity = 0;
};

// All strokes of a take in order of arrival, and which slots there are.
struct Strokes {
  SlotTable slots;
  std::vector<Stroke> all;
  std::vector<std::vector<std::uint32_t>> by_slot;  // indices into `all`
};

[[nodiscard]] Strokes strokes_of(const Take& take);

}  // namespace loftbeat::take
