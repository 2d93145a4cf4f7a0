#pragma once

#include <cstddef>
#include <cstdint>
#include <string>

#include "pipes/rank.h"
#include "pipes/riff.h"
#include "pipes/zones.h"

namespace loftbeat::pipes {

// The articulation lists of a SoundFont (2.04, section 7), filled rank by rank. Private to pipes/.
class Sf2Records {
 public:
  // Where the sample of a zone lies, in points from the beginning of all samples.
  struct Place {
    std::size_t start = 0;
    std::size_t end = 0;
    std::size_t loop_start = 0;
    std::size_t loop_end = 0;
  };

  // Begins the preset and the instrument of a rank.
  void begin_rank(const Rank& rank);
  // Adds a sample and a zone of the instrument for each key that plays it.
  void add_zone(const Rank& rank, const Zone& zone, const Place& place);
  // Ends the lists; the pdta list whole. Once.
  [[nodiscard]] std::string finish();

 private:
  void generator(int number, unsigned amount);
  void cancel(unsigned source, int destination);
  void instrument_bag();

  Bytes phdr_, pbag_, pgen_, inst_, ibag_, imod_, igen_, shdr_;
  unsigned presets_ = 0;
  unsigned instrument_bags_ = 0;
  unsigned instrument_generators_ = 0;
  unsigned modulators_ = 0;
  unsigned samples_ = 0;
};

}  // namespace loftbeat::pipes
