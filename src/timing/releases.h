#pragma once

#include <optional>
#include <vector>

#include "timing/fitted_pass.h"

namespace loftbeat::timing {

// How notes end. Ends are those of the keys; the sustain pedal is reported on its own.
//
// smear: a matched note whose key stays down more than the plan's smear_ms (50 ms) beyond the next
// struck onset at or after its written end (its own voice's, if that strikes there: feet that come
// late do not smear for it), unless that onset strikes or holds the same pitch again. At the end of
// a pass the next pass's first onset counts. Worked number: a crotchet ends at beat 1, struck
// at 10.00 s; its key goes up at 10.08 s: a smear of 80 ms.
//
// repeats: notes of the topmost voice that follow a note of the same pitch without a rest. Inner
// voices may be tied over (common practice, no source). Unstruck are those that were held on.
//
// together: the spread (latest minus earliest release) of the notes that end with a phrase, median
// over the phrases of the pass; phrases of one such note are left out.
//
// sustain_share: share of the pass, first onset to last sound, with the sustain pedal down.
class ReleaseMeter {
 public:
  explicit ReleaseMeter(const Question& question);

  // `next_onset_s`: first onset of the next pass of the same run, if there is one.
  [[nodiscard]] Releases measure(int pass, const FittedPass& fitted,
                                 std::optional<double> next_onset_s) const;

 private:
  struct Ended;
  class VoiceOnsets;
  [[nodiscard]] std::vector<Ended> ended_notes(int pass, const FittedPass& fitted) const;
  void put_smears(const std::vector<Ended>& notes, const FittedPass& fitted,
                  std::optional<double> next_onset_s, Releases& out) const;
  void put_repeats(int pass, const std::vector<Ended>& notes, Releases& out) const;
  void put_together(const std::vector<Ended>& notes, Releases& out) const;
  [[nodiscard]] bool sounds_at(int pitch, Tick tick) const;

  const Question& question_;
  std::vector<int> repeats_;               // second notes of the tune's repetitions, by index
  std::vector<Tick> phrase_ends_;          // written ends of the phrases' last chords
  std::vector<std::pair<int, int>> held_;  // (pass, score note), sorted
};

// Spread of the releases of the notes that end with the last chord of a pass, ms.
[[nodiscard]] Measured<double> last_chord_together_ms(const Question& question, int pass);

}  // namespace loftbeat::timing
