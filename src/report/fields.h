#pragma once

#include <array>

#include "timing/measures.h"

namespace loftbeat::report {

// The one table of names that the writer of a review uses and a later reader can use: which key
// of the JSON holds which figure. Units are in the keys. A key is never given another meaning;
// new figures get new keys.

// A figure that may be unknown. In the JSON: a number, or null with its reason in the sibling
// object "unknown" under the same key.
template <typename Owner>
struct Figure {
  const char* key;
  Measured<double> Owner::*member;
};

// A figure that is always known.
template <typename Owner>
struct Plain {
  const char* key;
  double Owner::*member;
};

using timing::Beat;
using timing::JoinMeasures;
using timing::PassMeasures;
using timing::PlayOverMeasures;
using timing::Releases;

inline constexpr std::array kPassFigures = {
    Figure<PassMeasures>{"tempo_bpm", &PassMeasures::tempo_bpm},
    Figure<PassMeasures>{"tempo_offset_percent", &PassMeasures::tempo_offset_percent},
    Figure<PassMeasures>{"tempo_uncertainty_percent", &PassMeasures::tempo_uncertainty_percent},
    Figure<PassMeasures>{"trend_percent", &PassMeasures::trend_percent},
    Figure<PassMeasures>{"steadiness_percent", &PassMeasures::steadiness_percent},
    Figure<PassMeasures>{"trend_uncertainty_percent", &PassMeasures::trend_uncertainty_percent},
    Figure<PassMeasures>{"steadiness_uncertainty_percent",
                         &PassMeasures::steadiness_uncertainty_percent},
    Figure<PassMeasures>{"jitter_ms", &PassMeasures::jitter_ms},
    Figure<PassMeasures>{"end_drift_ms", &PassMeasures::end_drift_ms},
};

inline constexpr std::array kBeatFigures = {
    Figure<Beat>{"played_s", &Beat::played_s},
    Figure<Beat>{"drift_ms", &Beat::drift_ms},
    Figure<Beat>{"drift_beats", &Beat::drift_beats},
    Figure<Beat>{"running_drift_ms", &Beat::running_drift_ms},
};

inline constexpr std::array kReleaseFigures = {
    Figure<Releases>{"smear_ms", &Releases::smear_ms},
    Figure<Releases>{"together_ms", &Releases::together_ms},
    Figure<Releases>{"sustain_share", &Releases::sustain_share},
};

inline constexpr std::array kJoinTimes = {
    Plain<JoinMeasures>{"last_onset_s", &JoinMeasures::last_onset_s},
    Plain<JoinMeasures>{"release_s", &JoinMeasures::release_s},
    Plain<JoinMeasures>{"onset_s", &JoinMeasures::onset_s},
    Plain<JoinMeasures>{"silence_s", &JoinMeasures::silence_s},
};

inline constexpr std::array kJoinFigures = {
    Figure<JoinMeasures>{"hold_beats", &JoinMeasures::hold_beats},
    Figure<JoinMeasures>{"lift_beats", &JoinMeasures::lift_beats},
    Figure<JoinMeasures>{"span_beats", &JoinMeasures::span_beats},
    Figure<JoinMeasures>{"planned_hold_beats", &JoinMeasures::planned_hold_beats},
    Figure<JoinMeasures>{"planned_lift_beats", &JoinMeasures::planned_lift_beats},
    Figure<JoinMeasures>{"planned_span_beats", &JoinMeasures::planned_span_beats},
    Figure<JoinMeasures>{"phase_error_beats", &JoinMeasures::phase_error_beats},
    Figure<JoinMeasures>{"phase_error_ms", &JoinMeasures::phase_error_ms},
    Figure<JoinMeasures>{"uncertainty_ms", &JoinMeasures::uncertainty_ms},
    Figure<JoinMeasures>{"tolerance_ms", &JoinMeasures::tolerance_ms},
    Figure<JoinMeasures>{"likeness_beats", &JoinMeasures::likeness_beats},
    Figure<JoinMeasures>{"settling_beats", &JoinMeasures::settling_beats},
    Figure<JoinMeasures>{"together_ms", &JoinMeasures::together_ms},
};

inline constexpr std::array kPlayOverFigures = {
    Figure<PlayOverMeasures>{"tempo_bpm", &PlayOverMeasures::tempo_bpm},
    Figure<PlayOverMeasures>{"verse_tempo_bpm", &PlayOverMeasures::verse_tempo_bpm},
    Figure<PlayOverMeasures>{"tempo_difference_percent",
                             &PlayOverMeasures::tempo_difference_percent},
    Figure<PlayOverMeasures>{"tempo_uncertainty_percent",
                             &PlayOverMeasures::tempo_uncertainty_percent},
    Figure<PlayOverMeasures>{"slowing_uncertainty_percent",
                             &PlayOverMeasures::slowing_uncertainty_percent},
    Figure<PlayOverMeasures>{"slowing_percent", &PlayOverMeasures::slowing_percent},
    Figure<PlayOverMeasures>{"mean_velocity", &PlayOverMeasures::mean_velocity},
    Figure<PlayOverMeasures>{"verse_mean_velocity", &PlayOverMeasures::verse_mean_velocity},
    Figure<PlayOverMeasures>{"loudness_sone", &PlayOverMeasures::loudness_sone},
    Figure<PlayOverMeasures>{"verse_loudness_sone", &PlayOverMeasures::verse_loudness_sone},
    Figure<PlayOverMeasures>{"upper_loudness_sone", &PlayOverMeasures::upper_loudness_sone},
    Figure<PlayOverMeasures>{"verse_upper_loudness_sone",
                             &PlayOverMeasures::verse_upper_loudness_sone},
};

}  // namespace loftbeat::report
