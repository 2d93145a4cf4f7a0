#pragma once

#include <ctime>

namespace loftbeat::bench {

// Seconds that this process has spent on a processor, all threads together; differences count.
// Unlike the wall clock it does not run while other programs have the processor.
[[nodiscard]] inline double cpu_seconds() {
  timespec now{};
  clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
  return static_cast<double>(now.tv_sec) + 1e-9 * static_cast<double>(now.tv_nsec);
}

}  // namespace loftbeat::bench
