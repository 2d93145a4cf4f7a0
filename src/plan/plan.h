#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "base/base.h"

namespace loftbeat::plan {

// The note value that is felt as the beat.
enum class BeatUnit { eighth, quarter, dotted_quarter, half, dotted_half };
[[nodiscard]] constexpr Tick ticks(BeatUnit unit) {
  switch (unit) {
    case BeatUnit::eighth: return kTicksPerQuarter / 2;
    case BeatUnit::dotted_quarter: return kTicksPerQuarter * 3 / 2;
    case BeatUnit::half: return kTicksPerQuarter * 2;
    case BeatUnit::dotted_half: return kTicksPerQuarter * 3;
    case BeatUnit::quarter: break;
  }
  return kTicksPerQuarter;
}

// How a pass is dressed. Several may hold at once (no-pedal and fuller, say).
enum class Texture { as_written, tune_up_octave, no_pedal, fuller, unison, free_harmony };

enum class JoinKind {
  hold_and_lift,  // the last chord sounds `hold_beats`, then `lift_beats` of silence
  by_the_bar,     // the metre runs on, with `extra_bars` whole bars between
};

// A planned verse join. Without a plan a join is judged for likeness only.
struct Join {
  JoinKind kind = JoinKind::hold_and_lift;
  double hold_beats = 0;  // >= 0, in the plan's beat unit
  double lift_beats = 0;  // >= 0
  int extra_bars = 0;     // >= 0
  friend bool operator==(const Join&, const Join&) = default;
};

enum class PlayOverKind { automatic, none, whole, phrases, first_and_last };
struct PlayOver {
  PlayOverKind kind = PlayOverKind::automatic;
  std::vector<int> phrases;  // for PlayOverKind::phrases: numbers from 1, in playing order
  friend bool operator==(const PlayOver&, const PlayOver&) = default;
};

enum class FermataKind {
  sign_only,  // marks a line end, not held
  hold,       // the note is lengthened by `extra_beats`
  free,       // held at will; the grid is anchored anew after it
};
struct FermataRule {
  FermataKind kind = FermataKind::sign_only;
  double extra_beats = 0;
  friend bool operator==(const FermataRule&, const FermataRule&) = default;
};

// A place in the printed score: a bar number as printed and a beat from 1.
struct Place {
  std::string bar;
  double beat = 1;
  int line = 0;  // of the plan file, for messages
};

// A slowing that is meant: from this place to the end of the pass, down to `percent` of the pulse.
struct Broadening {
  Place from;
  double percent = 85;  // 50 to 100, of the tempo, reached at the last beat
};

// What is to be drawn, by the names that a person writes; which organ they belong to, and whether
// it has them, is not known here. What is left out is the plan's default for all passes, and where
// the plan has none, nothing drawn and every box open.
struct RegistrationLines {  // of the plan's file, key by key; 0: not stated there
  int stops = 0;
  int couplers = 0;
  int tremulants = 0;
  int swell = 0;
  int crescendo = 0;
};
struct RegistrationPlan {
  std::optional<std::vector<std::string>> stops;
  std::optional<std::vector<std::string>> couplers;
  std::optional<std::vector<std::string>> tremulants;
  std::optional<double> swell;                            // of every box, 0 shut to 1 open
  std::optional<std::map<std::string, double>> swell_of;  // by division, instead of `swell`
  std::optional<int> crescendo;                           // position of the crescendo pedal, >= 0
  RegistrationLines lines;
  [[nodiscard]] bool empty() const {
    return !stops && !couplers && !tremulants && !swell && !swell_of && !crescendo;
  }
};

// What a pass is wished to sound like: a word, or figures (one of them or both).
enum class WishKind { quiet, plain, bright, full, figures };
struct Wish {
  WishKind kind = WishKind::plain;
  std::optional<double> lead_sone;       // for figures: left of the organ over the singing
  std::optional<double> sharpness_acum;  // for figures
  int line = 0;                          // of the plan file, for messages
  friend bool operator==(const Wish& a, const Wish& b) {
    return a.kind == b.kind && a.lead_sone == b.lead_sone && a.sharpness_acum == b.sharpness_acum;
  }
};

// When the stops of a pass are moved.
enum class MovesAtKind {
  join,        // at the join before it
  phrase_end,  // at the end of phrase `phrase` of the pass before
  silent,      // during the pass before, on divisions that do not sound there; the rest at the join
};
struct MovesAt {
  MovesAtKind kind = MovesAtKind::join;
  int phrase = 0;  // from 1, for phrase_end
  int line = 0;    // of the plan file, for messages
  friend bool operator==(const MovesAt& a, const MovesAt& b) {
    return a.kind == b.kind && a.phrase == b.phrase;
  }
};

enum class PassKind { play_over, verse, interlude, amen };

// What the plan says of one pass beyond the defaults.
struct PassPlan {
  std::vector<Texture> textures;   // empty: the plan's default
  bool unaccompanied = false;      // no notes for this whole verse
  int transpose_semitones = 0;     // -12 to 12
  std::vector<int> phrases;        // phrases played, from 1, in order; empty: the whole tune
  std::optional<Join> join_after;  // overrides the plan's join
  std::optional<Broadening> broadening;
  RegistrationPlan registration;    // overrides the plan's, key by key
  std::optional<Wish> wish;         // overrides the plan's
  std::optional<MovesAt> moves_at;  // of verses: overrides the plan's
  int line = 0;
};

// An unwritten stretch of playing between two verses or after the last.
struct Interlude {
  int after_verse = 1;
  double beats = 0;  // 0: of any length
  int line = 0;
};

// How much counts. Defaults rest on the timing literature quoted in timing/tolerances.h.
struct Tolerances {
  double join_ms = 60;            // phase of a join, the floor
  double join_percent = 5;        // of the span
  double tempo_percent = 4;       // tempo of a pass against the set tempo
  double trend_percent = 3;       // last third against first third
  double steadiness_percent = 6;  // coefficient of variation
  double hesitation_beats = 0.25;
  double pedal_lag_ms = 40;
  double smear_ms = 50;
};

// Where things stand in the plan's file, from 1, for messages; 0 if not stated there.
struct PlanLines {
  int play_over = 0;
  int refrain = 0;
  int join = 0;
  int join_after_play_over = 0;
  int organ = 0;
  int church = 0;
  int hold_stops = 0;
  int not_stops = 0;
};

// A `*.plan.toml` as a value. Numbers are in the plan's beat unit unless a name says otherwise.
struct Plan {
  std::string title;
  std::string score_path;  // resolved against the plan's folder
  std::string file;        // where the plan was read from; empty if made on the command line
  double tempo_bpm = 0;    // beats a minute, 20 to 300; 0 = not set
  BeatUnit beat = BeatUnit::quarter;
  std::optional<int> verses;  // nothing: found from the take ("auto")
  PlayOver play_over;
  std::vector<Texture> textures = {Texture::as_written};
  std::optional<Join> join;                  // between verses
  std::optional<Join> join_after_play_over;  // nothing: as `join`
  FermataRule fermata;                       // for all that are not named
  std::vector<std::pair<Place, FermataRule>> fermatas;
  std::vector<Place> phrase_starts;  // states the phrases; empty: as the score has them
  // Belong to every verse: appended to a verse that lists phrases and does not end with them.
  std::vector<int> refrain_phrases;
  std::map<int, PassPlan> verse_plans;  // by verse number, from 1
  PassPlan play_over_plan;
  std::vector<Interlude> interludes;
  bool amen = false;              // an Amen follows the last verse
  std::string organ_path;         // resolved against the plan's folder; empty: none named
  std::string church_path;        // the same
  std::optional<int> people;      // in church at the service; nothing: as the church file expects
  RegistrationPlan registration;  // of passes that do not state their own
  std::optional<Wish> wish;       // of passes that do not state their own
  MovesAt moves_at;               // the same
  std::vector<std::string> hold_stops;   // stay drawn in every pass, whatever is suggested
  std::vector<std::string> not_stops;    // are never suggested
  bool helper = false;                   // someone else moves the stops
  std::optional<double> breath_seconds;  // a line that one breath can sing; nothing: the usual
  Tolerances tolerances;
  PlanLines lines;
};

}  // namespace loftbeat::plan
