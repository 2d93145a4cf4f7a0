#pragma once

#include <map>
#include <string>
#include <vector>

#include "follow/alignment.h"
#include "simulate/model_players.h"
#include "simulate/truth.h"
#include "take/take.h"

namespace loftbeat::test {

// How an alignment compares with the truth of a simulated take.
struct Judgement {
  bool fits = false;          // align() gave an alignment at all
  bool labels_right = false;  // passes: number, labels and runs
  int pairs = 0;              // played notes that truly are score notes
  int right_pairs = 0;        // of those, found as the right score note in the right pass
  int false_pairs = 0;        // found pairs that are wrong
  int beats = 0;              // truly struck onsets that fall on a beat
  int beats_right = 0;        // of those, found within 5 ms of the true median
  int joins = 0;
  int joins_right = 0;  // silence within 20 ms
  double beat_error_against_intent_ms =
      0;                // sum over beats, of the true median against the intended beat
  std::string remarks;  // what went wrong, for a person to read

  [[nodiscard]] double f1() const;
  void add(const Judgement& other);
};

// Plays the case, cleans and follows it, and compares.
[[nodiscard]] Judgement judge(const simulate::ModelCase& model);

// The same for a performance at hand.
[[nodiscard]] Judgement judge(const simulate::ModelCase& model, const simulate::ModelTake& played);

}  // namespace loftbeat::test
