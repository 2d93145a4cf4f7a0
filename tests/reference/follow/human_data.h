#pragma once

#include <string>
#include <vector>

#include "music/score.h"
#include "take/take.h"

namespace loftbeat::test {

// One piece and one or more performances of it, one after the other, with the true score note of
// every played note. Source: Vienna 4x22 Piano Corpus, see README.md beside this file.
struct HumanData {
  music::Score score;
  take::CleanTake take;
  struct True {
    int pass = 0;
    int score = -1;         // index into Score::notes; -1: none
    bool ornament = false;  // belongs to a grace note, which scores do not hold
  };
  std::vector<True> truth;          // one for each note of the take
  std::vector<double> silences_s;   // between performances, as joined
  double quarters_per_minute = 60;  // mean of the last performance
};

// `gap_s` seconds of nothing between performances. Aborts on a missing file.
[[nodiscard]] HumanData read_human(const std::string& piece,
                                   const std::vector<std::string>& players, double gap_s);

}  // namespace loftbeat::test
