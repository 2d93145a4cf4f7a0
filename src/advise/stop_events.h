#pragma once

#include <string>
#include <vector>

#include "organ/organ.h"
#include "take/take.h"

namespace loftbeat::advise {

// What moved the stops of a take, and when: the messages that the organ file maps to controls, and
// marks. Pure; linear in the number of events; any thread.
//
// A mark is a marker or cue of the take's file. Its text is the word "stops", alone or followed by
// what moves: "stops: + Great Fifteenth 2, - Swell to Great". Names are those of plans; + draws,
// - pushes in, neither turns round what is drawn. Upper or lower case does not matter. A mark that
// names nothing, or something that the organ does not have, tells the time of a movement only.
//
// Swell and crescendo pedals are no movements. A message that changes nothing is none either,
// unless it is a piston's: consoles repeat themselves.
struct StopEvent {
  Instant at;
  enum class Told { controls, time_only } told = Told::controls;
  std::vector<organ::ConsoleMove> moves;  // empty for time_only
  organ::Registration before;
  organ::Registration after;
};

struct StopEvents {
  std::vector<StopEvent> events;  // in time
  std::string why_none;           // if there are none: the reason, in plain words
  std::vector<Notice> notices;    // marks that could not be understood, each text once
};

// `drawn`: the registration before the first event, which messages of the take then change.
[[nodiscard]] StopEvents stop_events(const take::Take& take, const organ::Organ& organ,
                                     organ::Registration drawn);

// "draws Great Fifteenth 2; pushes in Swell to Great; presses Great 1"; empty for no moves.
[[nodiscard]] std::string moves_in_words(const organ::Organ& organ,
                                         const std::vector<organ::ConsoleMove>& moves);

}  // namespace loftbeat::advise
