#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "advise/hall.h"
#include "advise/over_time.h"
#include "advise/stop_effects.h"
#include "base/measured.h"
#include "room/people_effect.h"

namespace loftbeat::advise {

// What the stops of one pass come to, in the church empty and with people.

// Lead, support and exposure with so many people, all singing: once as in a church that absorbs
// like the empty one (the singing alone counts), once with the people's absorption too.
struct HeadCount {
  int people = 0;
  hearing::OverSinging church_as_empty;
  hearing::OverSinging with_people;
  double extrapolated_share = 0;  // of the loudness left over the singing, with people
};

// What the upper work drawn gives back over the singing of the full church.
struct UpperWork {
  std::vector<std::size_t> stops;
  std::array<double, room::kOctaveCount> gives_sone{};  // over the singing, by octave
  double lead_with_sone = 0;
  double lead_without_sone = 0;
  Measured<double> sharpness_with_acum;
  Measured<double> sharpness_without_acum;
};

struct PassMeasure {
  std::string label;  // as in the route: "play-over", "1" ...
  organ::Registration drawn;
  // Why there is nothing to measure: an unaccompanied verse, no stop drawn. Empty: all is measured.
  std::string silent_because;
  hearing::VoiceBand sung;
  Heard empty;  // nobody there, nobody sings
  Heard full;   // the people of the question there and singing
  OverTime empty_over_time;
  OverTime full_over_time;
  room::PeopleEffect effect;
  Measured<UpperWork> upper = Measured<UpperWork>::unknown("no upper work is drawn");
  std::vector<HeadCount> heads;  // one for each of kPeopleCounts
  std::vector<StopEffect> stop_effects;
  std::vector<Swap> swaps;
};

struct PlanMeasures {
  std::string title;
  organ::Organ organ;
  std::string church;  // its name
  int people = 0;
  std::array<double, room::kOctaveCount> empty_s{};  // reverberation by Sabine, which levels go by
  std::array<double, room::kOctaveCount> full_s{};
  std::array<double, room::kOctaveCount> empty_eyring_s{};  // and by Eyring
  std::array<double, room::kOctaveCount> full_eyring_s{};
  std::vector<PassMeasure> passes;
};

// One pass as it is to be played.
struct PlayedPass {
  std::string label;
  organ::Registration drawn;
  std::vector<KeySpan> keys;  // empty: nothing is played
  int lowest_tune_note = 60;  // MIDI, of the topmost voice, as sung
  int highest_tune_note = 72;
};

struct PlanQuestion {
  const organ::Organ* organ = nullptr;  // none of these may be null
  const room::Church* church = nullptr;
  const StopPowers* powers = nullptr;
  int people = 0;  // in the full church, all singing; 1 or more
  std::string title;
};

// About 10 ms a pass.
[[nodiscard]] PlanMeasures measure_plan(const PlanQuestion& question,
                                        const std::vector<PlayedPass>& passes);

}  // namespace loftbeat::advise
