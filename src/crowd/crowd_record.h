#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "crowd/people.h"

namespace loftbeat::crowd {

// What is kept of the people's singing beside a take: who they were and when they passed each
// beat. A small text file, `people.beats` in the practice folder:
//
//   loftbeat people 1
//   people 60
//   reluctance 0.04
//   metres 20
//   seed 7
//   beat 10080
//   2 0 12.345678901
//   2 10080 13.095678901
//
// The head has these lines in this order (beat: ticks of the plan's beat unit). Then a line for
// each beat: the pass as the live follower counts (from 1), the score's tick, seconds from the
// start of the take at the people's mouths (the way of the sound to the player is metres / 343.2 s
// longer).
struct CrowdRecord {
  int people = 60;        // 1 to 2000
  double reluctance = 0;  // 0 to 0.08
  double metres = 20;     // 0 to 100
  std::uint64_t seed = 1;
  Tick beat_ticks = kTicksPerQuarter;
  std::vector<CrowdBeat> beats;  // in order of time

  [[nodiscard]] double way_s() const { return metres * kSecondsPerMetre; }
};

inline constexpr std::string_view kCrowdFile = "people.beats";
inline constexpr std::size_t kMostCrowdBeats = 1'000'000;

struct ReadCrowd {
  CrowdRecord record;
  std::vector<Notice> notices;  // what was left out, at most one
};

// Errors: a head that is not as above (unreadable, with the line), more than kMostCrowdBeats
// (too_large). A damaged or torn line of a beat, or one earlier than the line before it, is left
// out, and a notice tells the first and how many.
[[nodiscard]] Result<ReadCrowd> parse_crowd(std::string_view text, const std::string& name);
[[nodiscard]] Result<ReadCrowd> read_crowd(const std::string& path);
[[nodiscard]] std::string format_crowd(const CrowdRecord& record);

}  // namespace loftbeat::crowd
