#pragma once

#include <string>
#include <string_view>

#include "practice/review.h"

namespace loftbeat::report {

// How things are called, in words and in the JSON. Names of the JSON never change.

// "play-over", "verse 2", "interlude", "Amen"; with "run 2: " before it from the second run on,
// and " (broken off)" after it.
[[nodiscard]] std::string pass_name(const practice::Review& review, int pass);

// "play-over → 1", "2 → 3": short, for tables.
[[nodiscard]] std::string join_name(const practice::Review& review, const timing::JoinMeasures& j);

// The two passes of a join in time, whichever way round the indices stand.
struct JoinEnds {
  int earlier = 0;
  int later = 0;
};
[[nodiscard]] JoinEnds join_ends(const timing::JoinMeasures& join);

// "in time", "cannot tell": words for a player.
[[nodiscard]] std::string_view verdict_words(timing::JoinVerdict verdict);
// "in-time", "cannot-tell": names of the JSON.
[[nodiscard]] std::string_view verdict_name(timing::JoinVerdict verdict);
// "heard in the chord" and "heard-in-the-chord".
[[nodiscard]] std::string_view stop_verdict_words(advise::StopVerdict verdict);
[[nodiscard]] std::string_view stop_verdict_name(advise::StopVerdict verdict);
[[nodiscard]] std::string_view finding_name(practice::FindingKind kind);
[[nodiscard]] std::string_view match_name(follow::MatchKind kind);
[[nodiscard]] std::string_view pass_kind_name(plan::PassKind kind);
[[nodiscard]] std::string_view feet_name(timing::FeetSource feet);
[[nodiscard]] std::string_view fermata_name(plan::FermataKind kind);
[[nodiscard]] std::string_view play_over_name(plan::PlayOverKind kind);

// "quarter note", "dotted quarter note".
[[nodiscard]] std::string_view beat_words(plan::BeatUnit beat);

// Key number as a player names it, with sharps or flats as the key signature at `at` has them:
// 60 is "C4", 70 is "B♭4" in F major and "A♯4" in D major.
[[nodiscard]] std::string note_name(int pitch, const music::Score& score, Tick at);

}  // namespace loftbeat::report
