#include "app/export_command.h"

#include <algorithm>
#include <cstdio>
#include <filesystem>
#include <string_view>
#include <system_error>
#include <vector>

#include "app/endings.h"
#include "base/file.h"
#include "music/read.h"
#include "music/write.h"
#include "report/utf8.h"

namespace loftbeat::app {
namespace {

bool ends_as_midi(const std::string& path) { return path.ends_with(".mid"); }

void tell(const std::string& sentence) {
  const std::string line = "loftbeat: " + report::clean_text(sentence) + "\n";
  std::fputs(line.c_str(), stderr);
}

bool has_further_verses(const music::Score& score) {
  return std::any_of(score.words.begin(), score.words.end(), [&](const music::Syllable& syllable) {
    return syllable.verse != score.words.front().verse;
  });
}

// A bar inside the tune that is shorter or longer than its metre, the last one left out.
bool has_odd_bars(const music::Score& score) {
  for (std::size_t b = 0; b + 1 < score.bars.size(); ++b) {
    const music::Bar& bar = score.bars[b];
    const Tick full = 4 * kTicksPerQuarter * bar.beats / bar.beat_type;
    if (!bar.pickup && bar.length != full) return true;
  }
  return false;
}

// What a MIDI file has no place for, as far as this score has it.
std::vector<std::string> lost_in_midi(const music::Score& score) {
  std::vector<std::string> lost;
  if (!score.fermatas.empty()) lost.emplace_back("fermatas");
  if (has_further_verses(score)) lost.emplace_back("the words of all verses but the first");
  if (score.words.empty() && score.phrases.size() > 1) lost.emplace_back("where the lines end");
  if (has_odd_bars(score)) lost.emplace_back("the metre of bars that do not fill it");
  return lost;
}

void tell_losses(const music::Score& score, bool midi) {
  std::vector<std::string> lost = midi ? lost_in_midi(score) : std::vector<std::string>{};
  if (score.play_over) lost.emplace_back("the signs of the play-over");
  if (lost.empty()) return;
  std::string sentence = "the file cannot keep ";
  for (std::size_t i = 0; i < lost.size(); ++i)
    sentence += (i == 0 ? "" : i + 1 == lost.size() ? " and " : ", ") + lost[i];
  tell(sentence + "; all else is in it.");
}

}  // namespace

bool names_a_score_format(const std::string& path) {
  return path == "-" || path.ends_with(".musicxml") || path.ends_with(".xml") || ends_as_midi(path);
}

int run_export(const ExportOrder& order) {
  std::error_code why;
  if (std::filesystem::equivalent(order.score_path, order.to_path, why))
    return fail(wrong_use("--to " + order.to_path + " is the score itself.",
                          "Name another file; a score is never written over."));
  const Result<music::ReadScore> read = music::read_score(order.score_path);
  if (!read) return fail(read.error());
  for (const Notice& notice : read->notices) tell(to_string(notice));
  const bool midi = ends_as_midi(order.to_path);
  const std::string bytes =
      midi ? music::format_smf_score(read->score) : music::format_musicxml(read->score);
  if (const Status written = loftbeat::write_file(order.to_path, bytes); !written)
    return fail(written.error());
  tell_losses(read->score, midi);
  return kReviewed;
}

}  // namespace loftbeat::app
