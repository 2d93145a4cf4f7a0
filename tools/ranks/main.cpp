// loftbeat-ranks RECIPES_FOLDER OUT.sf2: makes the SoundFont from the pipe recipes.

#include <unistd.h>

#include <cstdio>
#include <string>

#include "base/file.h"
#include "pipes/read.h"
#include "pipes/soundfont.h"

namespace {

constexpr int kMade = 0;
constexpr int kFailed = 1;
constexpr int kWrongUse = 2;

int fail(const loftbeat::Error& error) {
  const std::string line = "loftbeat-ranks: " + loftbeat::to_string(error) + "\n";
  std::fputs(line.c_str(), stderr);
  return kFailed;
}

// A bar of 40 signs that is drawn over itself; nothing where nobody watches.
void draw_bar(std::size_t done, std::size_t total) {
  constexpr std::size_t kWidth = 40;
  const std::size_t filled = kWidth * done / total;
  if (done != total && filled == kWidth * (done - 1) / total) return;
  const std::string bar = std::string(filled, '#') + std::string(kWidth - filled, '.');
  std::fprintf(stderr, "\rranks [%s] %3zu %%%s", bar.c_str(), 100 * done / total,
               done == total ? "\n" : "");
}

int make(const std::string& folder, const std::string& out) {
  const auto recipes = loftbeat::pipes::read_recipes(folder);
  if (!recipes) return fail(recipes.error());
  loftbeat::pipes::BuildProgress progress;
  if (isatty(STDERR_FILENO) == 1) progress = draw_bar;
  const auto font = loftbeat::pipes::build_soundfont(*recipes, progress);
  if (!font) return fail(font.error());
  const loftbeat::Status written = loftbeat::write_file(out, *font);
  if (!written) return fail(written.error());
  std::printf("%s: %zu ranks, %.1f MB\n", out.c_str(), recipes->ranks.size(),
              static_cast<double>(font->size()) / 1e6);
  return kMade;
}

}  // namespace

int main(int argc, char** argv) {
  if (argc == 3 && argv[1][0] != '-') return make(argv[1], argv[2]);
  const bool help = argc == 2 && std::string(argv[1]) == "--help";
  std::fputs(
      "Usage: loftbeat-ranks RECIPES_FOLDER OUT.sf2\n"
      "Makes a SoundFont from the pipe recipes (*.toml) in a folder.\n",
      help ? stdout : stderr);
  return help ? kMade : kWrongUse;
}
