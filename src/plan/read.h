#pragma once

#include <string>
#include <string_view>

#include "plan/plan.h"

namespace loftbeat::plan {

// A `*.plan.toml` says what is meant to be played. It is TOML 1.0 with these keys; only `score`
// must be there. Beats are the plan's own (`beat`). Bars are the printed numbers; the upbeat bar is
// "0" and its beats count back from the bar line (an upbeat crotchet in 4/4 is "0:4").
//
//   title = "Evening at Nether Wexcombe"   the hymn, as it is to be shown
//   score = "evening.musicxml"      the tune, seen from the plan's folder; of an ABC file with
//   several
//                                   tunes "tunes.abc#3" is the one with X:3, "tunes.abc" the first
//   tempo = 72                      beats a minute, 20 to 300; left out: as the score marks it
//   beat = "quarter"                "eighth", "quarter" (default), "dotted-quarter", "half",
//                                   "dotted-half"
//   verses = 4                      1 to 200, or "auto" (default): found from the take
//   play-over = "first-and-last"    "auto" (default): found; "none", "whole", or phrase numbers
//                                   from 1 in playing order, such as [1, 4]
//   textures = ["as-written"]       of all passes: "as-written" (default), or any of
//                                   "tune-up-octave", "no-pedal", "fuller", "unison",
//                                   "free-harmony" together
//   join = "3+1"                    between verses: the last chord sounds 3 beats, then 1 beat of
//                                   silence; "bar": the bars run on; "bar+1": with one bar more.
//                                   Also { hold = 3, lift = 1 } or { extra-bars = 0 }. Beats 0 to
//                                   64, bars 0 to 16. Left out: joins are only compared.
//   join-after-play-over = "bar"    if that one differs
//   fermata = "sign-only"           all fermatas: "sign-only" (default) marks line ends, "free" is
//                                   held at will, "hold 1.5" is longer by so many beats (0 to 64)
//   phrase-starts = ["3:4", "9"]    where phrases begin, bar and beat ("9" is "9:1"); the first
//                                   begins with the tune. Left out: as the score shows them
//   refrain = [5, 6]                phrases that end every verse, for verses that list phrases
//   amen = true                     an Amen follows; default false
//   organ = "quaverham.organ.toml"  the instrument, seen from the plan's folder (organ/read.h)
//   church = "quaverham.church.toml"   where it stands (room/read.h)
//   people = 120                    in church at the service, 0 to 10000; left out: as the church
//                                   file expects
//   stops = ["Great Open Diapason 8"]   drawn in all passes; what a name may leave out stands in
//                                   organ/registration.h. At most 500 names of 200 bytes
//   couplers = ["Swell to Great"]
//   tremulants = []
//   swell = 1                       every swell box, 0 shut to 1 open (default); or by division,
//                                   { Swell = 0.5, Choir = 1 }
//   crescendo = 0                   position of the crescendo pedal, 0 to 60
//
//   wish = "plain"                  what passes should sound like, for suggestions: "quiet",
//                                   "plain", "bright" or "full"; or figures, one or both:
//                                   { lead = 12, sharpness = 1.6 } in sone (left of the organ over
//                                   the singing, 0 to 1000) and acum (0 to 20)
//   moves-at = "join"               when the stops of a verse are moved: "join" (default), at the
//                                   join before it; "phrase 3", at the end of that phrase of the
//                                   pass before; "silent", during the pass before on divisions that
//                                   do not sound there, the rest at the join
//   helper = false                  true: someone else moves the stops
//   hold-stops = ["Pedal Bourdon 16"]   stay drawn in every pass that is suggested
//   not-stops = ["Great Trumpet 8"]     are never suggested
//   breath-seconds = 10             how long a line one breath can sing, 2 to 60
//
//   [play-over-pass]                of the play-over alone:
//   textures = ["no-pedal"]
//   stops, couplers, tremulants, swell, crescendo   as above; each left out is the plan's
//   wish = "bright"                 left out: the plan's
//   transpose = 0                   semitones, -12 to 12
//   broaden = { from = "15", percent = 90 }
//
//   [verse.3]                       of one verse, by its number, 1 to 200:
//   textures = ["fuller", "unison"]   left out: the plan's
//   stops, couplers, tremulants, swell, crescendo   as above; each left out is the plan's
//   wish, moves-at                  as above; each left out is the plan's
//   unaccompanied = false           true: nothing is played in this verse
//   transpose = 1                   semitones, -12 to 12
//   phrases = [1, 2, 3, 4, 4]       what is played, if not the whole tune; a last line twice
//   join-after = "4+2"              the join after this verse, if it differs
//   broaden = { from = "15:3", percent = 80 }   slowing is meant from there to the end of the
//                                   verse, down to 50 to 100 percent of the tempo (default 85)
//
//   [[fermata-at]]                  one fermata that differs, or one that the score does not print
//   place = "4:3"
//   rule = "hold 2"
//
//   [[interlude]]                   unwritten playing after a verse
//   after-verse = 2
//   beats = 16                      0 to 512; 0 or left out: of any length
//
//   [tolerances]                    how much counts; see plan.h and timing/tolerances.h
//   join-ms = 60                    0 to 2000
//   join-percent = 5                0 to 100, so are the next three
//   tempo-percent = 4
//   trend-percent = 3
//   steadiness-percent = 6
//   hesitation-beats = 0.25         0 to 16
//   pedal-lag-ms = 40               0 to 1000
//   smear-ms = 50                   0 to 1000

// Reads a `*.plan.toml`. Unknown keys and wrong types are refused with file, line, what was
// expected and the nearest known key. Opens neither score nor
// organ nor church.
[[nodiscard]] Result<Plan> read_plan(const std::string& path);
[[nodiscard]] Result<Plan> parse_plan(std::string_view text, const std::string& path);

// Writes a plan so that parse_plan(format_plan(plan), plan.file) gives the same value back, lines
// apart. Files are named as seen from the folder of plan.file: to write a copy elsewhere, set
// plan.file to the new place first. Requires the ranges above; numbers survive to the last bit.
[[nodiscard]] std::string format_plan(const Plan& plan);

// The words of the file, for the command line too; the errors name no file.
// "3+1" (hold + lift), "bar" or "bar+1" (by the bar, with one extra bar).
[[nodiscard]] Result<Join> parse_join(std::string_view text);
[[nodiscard]] Result<BeatUnit> parse_beat_unit(std::string_view text);
// "auto", "none", "all" (or "whole"), "first-and-last", "1,4".
[[nodiscard]] Result<PlayOver> parse_play_over(std::string_view text);

[[nodiscard]] std::string to_string(BeatUnit unit);
[[nodiscard]] std::string to_string(Texture texture);
[[nodiscard]] std::string to_string(const Join& join);

}  // namespace loftbeat::plan
