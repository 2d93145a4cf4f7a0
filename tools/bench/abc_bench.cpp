// How long it takes to read hymns in ABC: 300 files of four voices, 16 to 32 bars, three verses.

#include <cstdio>
#include <string>
#include <vector>

#include "cpu_time.h"
#include "music/music.h"

namespace {

using namespace loftbeat;

// An invented hymn on two staves: `bars` bars of quarters, four to a line, with text.
std::string hymn(int number, int bars) {
  constexpr const char* kVoices[] = {"S", "A", "T", "B"};
  constexpr const char* kMusic[] = {"G A B c", "D ^D E E", "B, C D =D", "G, F, E, A,/B,/"};
  std::string text = "X:" + std::to_string(number) +
                     "\nT:Hymn\nM:4/4\nL:1/4\nQ:1/4=90\n%%score (S A) | (T B)\nV:S\nV:A\nV:T "
                     "clef=bass\nV:B clef=bass\nK:G\n";
  for (int line = 0; line < bars / 4; ++line) {
    for (int voice = 0; voice < 4; ++voice) {
      text += std::string("[V:") + kVoices[voice] + "] ";
      for (int bar = 0; bar < 4; ++bar) text += std::string(kMusic[voice]) + " | ";
      text += "\n";
      if (voice > 0) continue;
      for (int verse = 1; verse <= 3; ++verse) {
        text += "w: " + std::to_string(verse) +
                ".~An- oth- er line of words that fills the bars it " +
                "stands be- neath, and ends.\n";
      }
    }
  }
  return text;
}

}  // namespace

int main() {
  std::vector<std::string> files;
  for (int i = 0; i < 300; ++i) files.push_back(hymn(i + 1, 16 + 4 * (i % 5)));
  std::size_t bytes = 0;
  std::size_t notes = 0;
  const double begin = bench::cpu_seconds();
  for (const std::string& file : files) {
    const auto read = music::parse_score(file, "hymn.abc");
    if (!read) {
      std::fprintf(stderr, "%s\n", to_string(read.error()).c_str());
      return 1;
    }
    bytes += file.size();
    notes += read->score.notes.size();
  }
  const double seconds = bench::cpu_seconds() - begin;
  std::printf("abc: 300 hymns, %zu notes, %zu KB read in %.3f s of one core (2 s promised)\n",
              notes, bytes / 1024, seconds);
  return 0;
}
