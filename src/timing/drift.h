#pragma once

#include <optional>
#include <vector>

#include "timing/breaths.h"
#include "timing/fitted_pass.h"

namespace loftbeat::timing {

// Drift of each beat: how far it lies behind a grid at the set tempo (positive = behind). The grid
// is anchored where the pulse, not the single beat, has the first full bar line; an upbeat is never
// the anchor, for it may be gathered. Planned holds and breaths alike in all verses are taken out;
// after a fermata held at will, or something left out, the grid is anchored anew. Hesitations and
// restarts stay in. Worked number: set to 60 a minute, beats every 1.01 s from the first bar line
// on: the beat four bars of four later lies 16 * 10 ms = 160 ms (0.16 beats) behind.
//
// Running drift is the same through the joins: each next pass begins the planned span after the
// last chord's place on the grid. Where no span is planned or usual, it is anchored anew.

// A grid at the set tempo: place x of the pass belongs at start_s + x * period_s + time taken out.
struct SetGrid {
  double start_s = 0;
  double period_s = 0;
};

// The pass's own grid; nothing without a set tempo or a pulse.
[[nodiscard]] std::optional<SetGrid> own_grid(const Question& question, const FittedPass& pass);

// What is taken out of the times up to the place `x`.
[[nodiscard]] double taken_out_until(const FittedPass& pass, const AddedTime& added, double x);

// The grid of the pass that follows `span_beats` after the earlier pass's last onset.
[[nodiscard]] SetGrid next_grid(const SetGrid& grid, const FittedPass& pass, const AddedTime& added,
                                double span_beats);

// `running` is nothing where drift cannot be carried on from the pass before.
struct DriftGrids {
  std::optional<SetGrid> own;
  std::optional<SetGrid> running;
};

// All beats of the pass with their drifts.
[[nodiscard]] std::vector<Beat> beats_with_drift(const Question& question, const FittedPass& pass,
                                                 const AddedTime& added, const DriftGrids& grids);

// Drift of the last struck beat before the last two beats of the pass.
[[nodiscard]] Measured<double> end_drift_ms(const std::vector<Beat>& beats);

}  // namespace loftbeat::timing
