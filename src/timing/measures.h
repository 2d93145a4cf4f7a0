#pragma once

#include <string>
#include <vector>

#include "base/base.h"
#include "follow/alignment.h"
#include "music/score.h"
#include "plan/route.h"
#include "take/take.h"

namespace loftbeat::timing {

// Units are in the names. Positive drift and lag mean later. Seconds count from the start of the
// take. "Beat" is the plan's beat unit. Definitions stand at the functions that compute them.

// Where one beat of one pass fell.
struct Beat {
  Tick tick = 0;
  std::string bar;            // printed bar
  double beat = 1;            // within the bar, from 1; a pickup bar counts back from its end
  Measured<double> played_s;  // median onset, interpolated where nothing is struck
  bool struck = false;
  Measured<double> drift_ms;  // against the set tempo, anchored on the pulse at the first full bar
  Measured<double> drift_beats;
  Measured<double> running_drift_ms;  // the same through the joins
  double pulse_ms = 0;                // how far the beat lies behind the pulse (struck beats)
};

// Extra time that belongs to a phrase end, alike in the other verses.
struct Breath {
  Tick at = 0;  // end of the phrase
  std::string bar;
  double beat = 1;
  double extra_beats = 0;
};

// Extra time that belongs nowhere.
struct Hesitation {
  Tick at = 0;  // the onset that came late
  std::string bar;
  double beat = 1;
  double extra_beats = 0;
  double extra_ms = 0;
};

// A fermata as played.
struct FermataPlayed {
  Tick at = 0;
  std::string bar;
  plan::FermataKind planned = plan::FermataKind::sign_only;
  double planned_extra_beats = 0;
  Measured<double> extra_beats;
};

struct LagMs {
  double median_ms = 0;
  double spread_ms = 0;  // half the distance of the quartiles
  int count = 0;
};

// By what the feet were told from the hands.
enum class FeetSource {
  none,           // they cannot be told apart
  pedal_channel,  // the pedal division sends on a channel of its own
  bass_voice,     // the score's lowest voice stands for them; it may have been the left hand
};

// How notes end within a pass.
struct Releases {
  int notes = 0;              // notes whose ends were judged
  int smears = 0;             // notes held over into a note that should have cleared them
  Measured<double> smear_ms;  // median overlap of those
  std::vector<Tick> smear_at;
  int repeats = 0;                 // repeated notes in the score that were played
  int repeats_unstruck = 0;        // of those, held on instead of struck again
  Measured<double> together_ms;    // spread of the releases at phrase ends, median over phrases
  Measured<double> sustain_share;  // of the playing time, sustain pedal down
};

struct PassMeasures {
  int pass = 0;  // index into Alignment::passes
  Measured<double> tempo_bpm;
  Measured<double> tempo_offset_percent;  // positive = faster than set
  Measured<double> trend_percent;         // last third against first third, positive = quicker
  Measured<double> steadiness_percent;
  Measured<double> end_drift_ms;               // drift of the last struck beat before the last two
  Measured<double> tempo_uncertainty_percent;  // standard uncertainties
  Measured<double> trend_uncertainty_percent;
  Measured<double> steadiness_uncertainty_percent;
  Measured<double> jitter_ms;  // robust standard deviation of struck beats about the pulse
  std::vector<Beat> beats;
  std::vector<Breath> breaths;
  std::vector<Hesitation> hesitations;
  std::vector<FermataPlayed> fermatas;
  Releases releases;
  Measured<LagMs> pedal_lag;  // pedal against the hands
  FeetSource feet = FeetSource::none;
  Measured<LagMs> left_hand_lag;  // left against right hand
};

// Told in words that a player understands; `cannot_tell` inside the uncertainty.
enum class JoinVerdict {
  in_time,
  early,        // phase: the next pass enters before its beat; the breath was robbed
  late,         // phase: it enters after its beat
  miscounted,   // whole beats too many or too few, the pulse kept
  cannot_tell,  // the error is within the uncertainty of the measurement
  unlike,       // no plan, or alike plan: differs from the first verse join beyond tolerance
  alike,        // no plan: like the first verse join
};
[[nodiscard]] std::string to_string(JoinVerdict verdict);

struct JoinMeasures {
  int before = 0;  // index into Alignment::passes
  int after = 0;
  int run = 1;
  double last_onset_s = 0;  // last chord's onset
  double release_s = 0;     // last key release of the earlier pass
  double onset_s = 0;       // next pass's first onset
  double silence_s = 0;     // onset_s - release_s; negative when they overlap
  Measured<double> hold_beats;
  Measured<double> lift_beats;
  Measured<double> span_beats;
  Measured<double> planned_span_beats;
  Measured<double> planned_hold_beats;
  Measured<double> planned_lift_beats;
  Measured<int> count_error_beats;     // whole beats too many (positive) or too few
  Measured<double> phase_error_beats;  // what is left, positive = late
  Measured<double> phase_error_ms;
  Measured<double> uncertainty_ms;
  Measured<double> tolerance_ms;
  Measured<double> likeness_beats;  // span against the first verse join's
  Measured<double> settling_beats;  // until the new pass is back in its pulse
  Measured<double> together_ms;     // spread of the last chord's releases
  bool after_play_over = false;
  bool with_interlude = false;
  JoinVerdict verdict = JoinVerdict::cannot_tell;
  std::string why;  // for cannot_tell: the reason, in plain words; else empty
};

// The play-over as a promise of verse 1.
struct PlayOverMeasures {
  int pass = 0;
  int verse = 0;
  Measured<double> tempo_bpm;
  Measured<double> verse_tempo_bpm;            // of verse 1's first phrase
  Measured<double> tempo_difference_percent;   // play-over against verse 1, positive = faster
  Measured<double> tempo_uncertainty_percent;  // standard, of the difference
  Measured<double> slowing_percent;            // at the play-over's end, positive = slower
  Measured<double> slowing_uncertainty_percent;
  Measured<double> mean_velocity;  // only where the voice heard obeys it
  Measured<double> verse_mean_velocity;
  Measured<double> loudness_sone;
  Measured<double> verse_loudness_sone;
  Measured<double> upper_loudness_sone;
  Measured<double> verse_upper_loudness_sone;
};

struct Timing {
  std::vector<PassMeasures> passes;  // one for each Alignment pass
  std::vector<JoinMeasures> joins;
  Measured<PlayOverMeasures> play_over;
};

struct Question {
  const music::Score& score;
  const plan::Plan& plan;
  const plan::Route& route;
  const take::CleanTake& take;
  const follow::Alignment& alignment;
};

// All measures of a finished take. Pure; linear in the number of notes.
[[nodiscard]] Timing measure(const Question& question);

}  // namespace loftbeat::timing
