#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "music/score.h"
#include "plan/route.h"
#include "take/take.h"

namespace loftbeat::follow {

enum class MatchKind : std::uint8_t {
  matched,  // the score's pitch (after the pass's transposition)
  octave,   // the right note in another octave, where the texture allows it
  other,    // belongs to this pass but to no score note of its own (fuller chord, free harmony)
  extra,    // a wrong note, a slip, a replayed note, or outside every pass
  held,     // only for score notes: sounded already by a key that is held over
};

// One played note and what became of it. Index i speaks of CleanTake::notes[i].
struct NoteMatch {
  int score = -1;  // index into Score::notes; -1 for other and extra
  int pass = -1;   // index into Alignment::passes; -1 outside every pass
  MatchKind kind = MatchKind::extra;
};

// A score onset that was struck in a pass, from the notes matched there.
struct StruckOnset {
  Tick tick = 0;
  Instant first;
  Instant median;    // of all notes matched here; the mean of the middle two if even
  int count = 0;     // notes matched
  int expected = 0;  // notes the score has here for the voices that were meant to sound
};

struct MissedNote {
  int pass = 0;
  int score = 0;
};
struct HeldNote {
  int pass = 0;
  int score = 0;
};

// The player went back inside the pass and played on from there.
struct Restart {
  Tick from = 0;             // furthest score time reached
  Tick to = 0;               // where playing went on
  Instant at;                // first onset played again
  Nanoseconds lost{0};       // from the first playing of `to` to `at`
  bool false_start = false;  // went back to the very start, before half the tune
  bool planned = false;      // the route has it so: a last line that comes twice
};

// Something of the pass that was left out: playing went on further ahead.
struct Omission {
  TickSpan left_out;
  Instant at;  // first onset after it
};

// A wrong note gone back to and struck again without leaving the place.
struct Correction {
  Tick tick = 0;
  int wrong_pitch = 0;
  int right_pitch = 0;
  Instant at;           // the right note's onset
  Nanoseconds cost{0};  // by how much the next beats came later for it; 0 if played on in time
};

struct AlignedPass {
  std::string label;  // as RoutePass; unplanned verses go on counting
  plan::PassKind kind = plan::PassKind::verse;
  int run = 1;                  // which run through the hymn within the take, from 1
  int route_pass = -1;          // index into Route::passes, -1 if unplanned
  TickSpan covered;             // from the first to past the last score onset reached
  std::vector<TickSpan> spans;  // what was meant to be played: the route's, or found
  double quarters_covered = 0;
  bool complete = false;  // first and last score onset of `spans` both reached
  int transpose_semitones = 0;
  std::vector<plan::Texture> textures;  // as really played
  std::vector<bool> voices_sounded;     // by voice
  std::vector<StruckOnset> onsets;      // by tick; replayed places keep the last time
  std::vector<Restart> restarts;        // false starts among them
  std::vector<Omission> omissions;
  std::vector<Correction> corrections;
  std::size_t first_note = 0;  // into CleanTake::notes, [first_note, last_note]
  std::size_t last_note = 0;
  Instant first_onset;   // first note of the pass, a false start's included
  Instant last_onset;    // median onset of the last struck score onset
  Instant last_release;  // last key release of any note begun in the pass
  Instant last_sound;    // the same with the sustain pedal counted
};

// Playing between or round the passes that is not the tune: a prelude, an interlude, an Amen.
struct Aside {
  int after_pass = -1;  // index into Alignment::passes, -1 before the first
  bool amen = false;    // after the last pass of a run
  Instant begin;
  Instant end;  // last release
  int notes = 0;
};

struct Alignment {
  std::vector<AlignedPass> passes;  // in time
  std::vector<NoteMatch> notes;     // one for each CleanTake note
  std::vector<MissedNote> missed;
  std::vector<HeldNote> held;
  std::vector<Aside> asides;
  std::string label_source;  // "plan", "lyrics" or "order": how labels were found
  double matched_share = 0;  // played notes that belong to some pass, 0 to 1
  std::vector<Notice> notices;
};

// Aligns a finished take. `route` may leave verses and play-over open. Errors: no_fit if less than
// a third of the take's notes (or fewer than four) belong to the tune; the message says how many.
// Linear in the number of notes; the same input gives the same bits.
[[nodiscard]] Result<Alignment> align(const music::Score& score, const plan::Route& route,
                                      double set_quarters_per_minute, const take::CleanTake& take);

}  // namespace loftbeat::follow
