#pragma once

#include <string>

namespace loftbeat::app {

// `loftbeat history`, understood.
struct HistoryOrder {
  std::string tune;  // part of its name; empty: all
  std::string sessions = "sessions";
  std::string service_path;  // whose hymns are looked at; empty: none
  std::string page_path;     // empty: not wanted; "-": standard output
};

// Looks through the practices that `listen` has kept and tells how each tune goes; returns the exit
// code. A practice that cannot be read is named, and stops nothing.
int run_history(const HistoryOrder& order);

}  // namespace loftbeat::app
