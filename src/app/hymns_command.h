#pragma once

#include <string>
#include <vector>

#include "app/listen_command.h"

namespace loftbeat::app {

// `loftbeat hymns`, understood.
struct HymnsOrder {
  std::string folder;               // or one file
  std::string words;                // only hymns that have them all; empty: all
  std::string metre;                // only hymns of this poetic metre; empty: all
  std::string take_path;            // name the tune of this take; empty: none
  bool play = false;                // name the tune that is played on the inputs
  std::vector<InputChoice> inputs;  // empty: the only one there is, or asks
  std::string replay_path;          // with `play`: a take instead of inputs
  std::string json_path;            // empty: not wanted; "-": standard output
  bool afresh = false;              // read all files again
};

// Lists the hymns of a folder, or names a tune by how it is played; returns the exit code.
int run_hymns(const HymnsOrder& order);

}  // namespace loftbeat::app
