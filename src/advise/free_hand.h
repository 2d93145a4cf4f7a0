#pragma once

#include <vector>

#include "base/measured.h"
#include "music/score.h"
#include "plan/plan.h"
#include "plan/route.h"

namespace loftbeat::advise {

// Can a chord be held by one hand, so that the other may go to the stops?
//
// The pedal, where it plays, has the lowest voice; all else lies in the hands. One hand holds it
// if it spans a tenth (16 semitones) or less: a ninth is easy, a tenth not for every hand. The
// right hand is not asked to hold below G2, nor the left above C6. (Common practice, no source.)
// Textures as the pass has them: unison is the tune alone in the hands, tune-up-octave puts the
// topmost voice up. Richer chords (fuller, free-harmony) are not in the score: told as written,
// and `as_written` is false.
inline constexpr int kStretchSemitones = 16;
inline constexpr int kRightHandLowest = 43;
inline constexpr int kLeftHandHighest = 84;

struct FreeHand {
  bool left = false;   // may go: the right holds everything
  bool right = false;  // may go: the left holds everything
  bool as_written = true;
  int span_semitones = 0;       // of what the hands hold
  std::vector<int> in_hands;    // keys, rising
  std::vector<int> bind_left;   // keys out of the right hand's reach, which keep the left there
  std::vector<int> bind_right;  // keys out of the left hand's reach
  [[nodiscard]] bool any() const { return left || right; }
};

// At `at`, in score time: what sounds there. Nothing sounding: both hands free.
// Worked number: G2 in the pedal, D4 B4 G4 in the hands: 9 semitones, either hand may go; without
// the pedal G2 to B4 is 28 semitones: neither.
[[nodiscard]] FreeHand free_hand_at(const music::Score& score, Tick at, const plan::RoutePass& pass,
                                    int stretch = kStretchSemitones);

// The chords on both sides of a join: the last of the pass before, the first of the pass after.
// An unaccompanied pass leaves both hands free.
[[nodiscard]] FreeHand free_hand_at_end(const music::Score& score, const plan::RoutePass& pass,
                                        int stretch = kStretchSemitones);
[[nodiscard]] FreeHand free_hand_at_start(const music::Score& score, const plan::RoutePass& pass,
                                          int stretch = kStretchSemitones);

// The time for a change, in seconds: from the onset of the last chord to the next onset, and the
// part of it in which no key is down, where alone a change is not heard in the chord.
struct ChangeWindow {
  double whole_s = 0;
  double lift_s = 0;
  double beat_s = 0;  // at this tempo
  [[nodiscard]] double hold_s() const { return whole_s - lift_s; }
};

// At a planned join. By the bar, the chord lasts as written and is let go half a beat before the
// next entry at the latest (common practice, no source). Beside an unaccompanied verse the window
// has no end worth telling: kEndless. Unknown where no join or no tempo is planned, or where an
// interlude of any length comes.
// Worked number: 76 a minute, "4+2": 6 beats of 0.789 s: 4.74 s, of which the lift has 1.58 s.
inline constexpr double kEndless = 1e6;
[[nodiscard]] Measured<ChangeWindow> window_at_join(const plan::Plan& plan,
                                                    const music::Score& score,
                                                    const plan::RoutePass& before,
                                                    const plan::RoutePass& after);

// At the end of phrase `phrase` (from 1) of a pass: from its last chord to the next phrase, of
// which a quarter of a beat is silent, or a third of the chord if that is less (common practice,
// no source). Unknown for a phrase that is the last or is not there.
[[nodiscard]] Measured<ChangeWindow> window_at_phrase_end(const plan::Plan& plan,
                                                          const music::Score& score,
                                                          const plan::Route& route,
                                                          const plan::RoutePass& pass, int phrase);
// Onset of the last chord of that phrase; unknown likewise.
[[nodiscard]] Measured<Tick> last_chord_of_phrase(const music::Score& score,
                                                  const plan::Route& route, int phrase);

// Beats a minute in the plan's beat: the plan's tempo, else the score's first. Unknown if neither.
[[nodiscard]] Measured<double> set_tempo(const plan::Plan& plan, const music::Score& score);

}  // namespace loftbeat::advise
