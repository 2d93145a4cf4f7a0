#pragma once

#include <optional>
#include <string>
#include <vector>

#include "plan/route.h"
#include "simulate/fault.h"

namespace loftbeat::simulate {

// Why a key was pressed.
enum class NoteKind {
  right,     // a score note at its pitch (after the pass's transposition)
  octave,    // a score note in another octave, as the texture asks
  wrong,     // another key in place of the score note `meant`
  extra,     // a slip beside the score notes
  doubled,   // the key bounced: second strike of the score note `meant`
  filler,    // belongs to a fuller chord, a free harmony, a doubling, an interlude
  ornament,  // a trill's later notes
};
[[nodiscard]] std::string to_string(NoteKind kind);

// One pressed key. A key that came twice through a coupler is one note.
struct TrueNote {
  int pass = 0;    // index into Truth::passes; -1 in an aside
  int score = -1;  // index into Score::notes: right and octave only
  int meant = -1;  // wrong, doubled: the score note in whose place it stands
  NoteKind kind = NoteKind::right;
  Tick tick = 0;  // score place at which it was played
  int pitch = 60;
  int voice = -1;  // score voice, -1 for fillers
  int channel = 0;
  int velocity = 64;
  bool superseded = false;  // played again after a restart: this is the earlier time
  bool corrected = false;   // the right note after a wrong one
  Instant intended;         // the beat as the player meant it, before jitter, spread and lag
  Instant on;               // as performed
  Instant off;
  Instant stamped_on;  // as the file has it: differs by wireless bunching, stamp jitter, drift
  Instant stamped_off;
};

// Where the rightly played notes of one score onset fell (the last time, after restarts).
struct TrueOnset {
  Tick tick = 0;
  Instant first;
  Instant median;  // mean of the middle two if even
  Instant intended;
  int count = 0;
  int expected = 0;  // score notes here of the voices that were meant to sound
};

struct TrueRestart {
  Tick from = 0;  // last onset reached
  Tick to = 0;
  Instant at;  // first onset played again
  Nanoseconds lost{0};
  bool false_start = false;
};

struct TrueCorrection {
  Tick tick = 0;
  int wrong_pitch = 0;
  int right_pitch = 0;
  Instant at;
  double cost_beats = 0;
};

struct TruePass {
  std::string label;
  plan::PassKind kind = plan::PassKind::verse;
  int run = 1;
  int route_pass = -1;          // -1: unplanned
  bool complete = true;         // first and last place of `spans` both reached
  std::vector<TickSpan> spans;  // what was meant to be played
  TickSpan covered;
  std::vector<plan::Texture> textures;
  int transpose_semitones = 0;
  std::vector<bool> voices;       // score voices meant to sound
  double tempo_bpm = 0;           // intended mean pulse, in the plan's beat, without slowings
  std::vector<TrueOnset> onsets;  // by tick
  std::vector<TrueRestart> restarts;
  std::vector<TrueCorrection> corrections;
  Instant first_onset;   // earliest key of the pass
  Instant last_onset;    // median of the last struck score onset
  Instant last_release;  // latest key release
};

// Between a pass and the next of the same run.
struct TrueJoin {
  int before = 0;
  int after = 0;
  Instant last_onset;
  Instant last_release;
  Instant next_onset;
  double silence_s = 0;   // next_onset - last_release
  double beat_s = 0;      // the ended pass's pulse at its end
  double hold_beats = 0;  // as performed, in that pulse
  double lift_beats = 0;
  double span_beats = 0;
  std::optional<plan::Join> planned;
  std::optional<double> planned_span_beats;
  int count_slip_beats = 0;
  double phase_slip_beats = 0;
  bool with_interlude = false;      // an aside lies between
  bool over_unaccompanied = false;  // a verse without notes lies between
};

// Improvised playing that is no pass of the tune: an interlude or an Amen.
struct TrueAside {
  int after_pass = -1;
  bool amen = false;
  Instant begin;
  Instant end;
  int notes = 0;
};

struct TrueStopMove {
  int join = 0;  // index into Truth::joins
  Instant first;
  Instant last;
  int messages = 0;
};

struct TrueAbsence {
  int pass = 0;
  int score = 0;
};

// All that there is to know about a simulated take. Indices stay valid for the score performed.
struct Truth {
  std::vector<TruePass> passes;  // in time
  std::vector<TrueJoin> joins;
  std::vector<TrueAside> asides;
  std::vector<TrueNote> notes;  // by (on, pitch)
  std::vector<TrueAbsence> missed;
  std::vector<TrueAbsence> held;  // not struck since the key already sounded (unisons too)
  std::vector<TrueStopMove> stop_moves;
  std::vector<Fault> faults;  // as planted, with the place that was chosen
};

}  // namespace loftbeat::simulate
