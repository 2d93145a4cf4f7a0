// The peak memory of one review, in a process of its own:
//   loftbeat_peak_memory write MINUTES FILE    lets the simulator play, writes the take
//   loftbeat_peak_memory review MINUTES FILE   reviews it, prints the peak of resident memory

#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <string>
#include <string_view>

#include "base/file.h"
#include "bench/cpu_time.h"
#include "bench/long_take.h"
#include "bench/review_steps.h"

namespace {

using namespace loftbeat;

// VmHWM of this process in MB. (ru_maxrss would count what the process was before exec, too.)
double peak_megabytes() {
  std::ifstream status("/proc/self/status");
  std::string word;
  while (status >> word) {
    double kilobytes = 0;
    if (word == "VmHWM:" && status >> kilobytes) return kilobytes / 1024;
  }
  return 0;
}

int write_take(int minutes, const std::string& file) {
  const Status written = write_file(file, bench::long_take(bench::long_piece(minutes)));
  if (written) return EXIT_SUCCESS;
  std::fprintf(stderr, "%s\n", to_string(written.error()).c_str());
  return EXIT_FAILURE;
}

int review(int minutes, const std::string& file) {
  const Result<std::string> bytes = read_file(file);
  if (!bytes) {
    std::fprintf(stderr, "%s\n", to_string(bytes.error()).c_str());
    return EXIT_FAILURE;
  }
  const double begin = bench::cpu_seconds();
  const bench::Reviewed reviewed = bench::review_steps(bench::long_piece(minutes), *bytes);
  const double took = bench::cpu_seconds() - begin;
  std::printf(
      "%d minutes, %zu notes, %zu verses (%.1f %% matched): %.3f s of one core, peak %.1f MB\n",
      minutes, reviewed.notes, reviewed.passes, 100 * reviewed.matched_share, took,
      peak_megabytes());
  return EXIT_SUCCESS;
}

}  // namespace

int main(int argc, char** argv) {
  const std::string_view command = argc == 4 ? argv[1] : "";
  const int minutes = argc == 4 ? std::atoi(argv[2]) : 0;
  if (minutes >= 1 && minutes <= 120) {
    if (command == "write") return write_take(minutes, argv[3]);
    if (command == "review") return review(minutes, argv[3]);
  }
  std::fprintf(stderr, "use: loftbeat_peak_memory write|review MINUTES FILE (1 to 120 minutes)\n");
  return 2;
}
