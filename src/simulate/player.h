#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <vector>

#include "plan/route.h"
#include "simulate/fault.h"
#include "take/take.h"

namespace loftbeat::simulate {

// A simulated player: habits and faults. Every default is the perfect machine; a human is made by
// setting habits (model_players.h has good and rough ones). Shares lie in 0..1.

struct TempoHabit {
  double factor = 1;          // of the set tempo, 0.5 to 2
  double wander_percent = 0;  // largest departure of the pulse: slow waves of 16 to 40 beats
  double drag_percent = 0;    // tempo lost evenly within each pass
  double rubato_percent = 0;  // quicker in the middle of each phrase, slower at its ends
};

enum class SpreadKind { random, rolled_up, rolled_down };

struct OnsetHabit {
  double jitter_ms = 0;       // SD of a whole chord round its place
  double note_jitter_ms = 0;  // SD of each note round its chord
  double spread_ms = 0;       // a chord's notes lie within so much, centred on its place; to 120
  SpreadKind spread = SpreadKind::random;
  double pedal_lag_ms = 0;      // feet behind the hands
  double left_hand_lag_ms = 0;  // left hand behind the right
  double arpeggio_share = 0;    // chords rolled upwards over `arpeggio_ms`
  double arpeggio_ms = 120;
};

struct ReleaseHabit {
  double repeat_gap_ms = 90;  // silence before a repeated note, at most 0.4 of the note
  double overlap_ms = 0;      // mean overlap of legato notes (negative: detached)
  double overlap_jitter_ms = 0;
  double together_ms = 0;  // SD of releases that should fall together
};

enum class BreathKind {
  none,
  out_of_note,  // the note is cut short, the beat runs on
  added,        // time is added, up to half a beat
};

struct PhraseHabit {
  BreathKind breath = BreathKind::out_of_note;
  double breath_beats = 0.25;
  double breath_jitter_beats = 0;  // SD from pass to pass: 0 = alike in all verses
  double gather_beats = 0;         // an upbeat before a full bar is lengthened by so much
  double free_fermata_beats = 1;   // extra length where the plan leaves a fermata free
};

struct JoinHabit {
  double lift_beats = 1;      // silence where the join is by the bar or unplanned
  double span_beats = 3;      // last chord to next onset where nothing is planned
  double jitter_percent = 0;  // SD of the span
};

// Chances for each score note.
struct SlipHabit {
  double wrong = 0;
  double missed = 0;
  double extra = 0;
  double doubled = 0;    // the key bounces: struck twice
  double trill = 0;      // of tune notes of a beat or more
  double held_over = 0;  // a key that already sounds is kept down instead of struck again
};

enum class BassWithoutPedal { left_out, left_hand };

// How one pass departs from the route (index into Route::passes).
struct PassChange {
  std::optional<std::vector<plan::Texture>> textures;
  std::optional<int> transpose_semitones;
  std::optional<std::vector<int>> only_voices;  // parts practice: pedal alone, melody alone ...
  double tempo_factor = 1;
};

enum class ChannelLayout {
  one,              // everything on channel 0
  hands_and_pedal,  // both hands on 0, pedal on 2
  hands_apart,      // right hand 0, left hand 1, pedal 2
};
enum class VelocityKind { fixed, varied };

// What stands between the keys and the file.
struct Console {
  ChannelLayout layout = ChannelLayout::one;
  bool coupled = false;  // right-hand keys come twice, on channel 3 up to 10 ms later
  VelocityKind velocity_kind = VelocityKind::fixed;
  int velocity = 64;  // fixed, or the mean
  double velocity_sd = 6;
  double bunch_ms = 0;         // wireless: events wait for the next of so spaced packets
  double stamp_jitter_ms = 0;  // each stamp late by 0 to so much, order kept
  double clock_drift_ppm = 0;  // the recorder's clock against the true one
};

enum class StopAnchor { last_onset, last_release, next_onset };

// A movement of the stops at the join after route pass `after_pass` (-1: at every join).
// The messages' own instants are offsets from the movement's begin.
struct StopMove {
  int after_pass = -1;
  StopAnchor anchor = StopAnchor::last_release;
  double offset_ms = 100;
  std::vector<take::Event> messages;
};

// One thumb piston: a dozen control messages of one channel, 2 ms apart (`count` of them).
[[nodiscard]] std::vector<take::Event> piston_messages(std::uint8_t channel, int count);
// One stop as a non-registered parameter message (controllers 99, 98, 6), or as a program change.
[[nodiscard]] std::vector<take::Event> nrpn_message(std::uint8_t channel, int parameter, int value);
[[nodiscard]] std::vector<take::Event> program_message(std::uint8_t channel, int program);

struct Player {
  TempoHabit tempo;
  OnsetHabit onset;
  ReleaseHabit release;
  PhraseHabit phrase;
  JoinHabit join;
  SlipHabit slip;
  BassWithoutPedal bass_without_pedal = BassWithoutPedal::left_out;
  Console console;
  std::map<int, PassChange> changes;
  std::vector<Fault> faults;
  std::vector<StopMove> stop_moves;
  int runs = 1;  // times through the whole hymn
  double between_runs_s = 30;
  double start_s = 1.5;  // instant of the first beat
};

}  // namespace loftbeat::simulate
