#include "report/summary.h"

#include <algorithm>

#include <fmt/format.h>

#include "report/numbers.h"
#include "report/utf8.h"
#include "report/words.h"

namespace loftbeat::report {
namespace {

using timing::PlayOverMeasures;

// Standard uncertainties twice over: what is smaller cannot be told from nothing.
constexpr double kCoverage = 2;

// "quicker" or "slower" with the size of the difference and what it is known to.
std::string compared(double percent, const Measured<double>& uncertainty, const char* more,
                     const char* less) {
  const std::string size = write_number(std::abs(percent), kPercent);
  if (!uncertainty) return fmt::format("{} {}", size, percent > 0 ? more : less);
  const std::string known_to = write_number(kCoverage * *uncertainty, kPercent);
  if (std::abs(percent) <= kCoverage * *uncertainty) {
    return fmt::format("no difference can be told (within {})", known_to);
  }
  return fmt::format("{} ± {} {}", size, known_to, percent > 0 ? more : less);
}

std::string tempo_promise(const PlayOverMeasures& play_over) {
  if (!play_over.tempo_bpm || !play_over.verse_tempo_bpm) {
    const auto& why = play_over.tempo_bpm ? play_over.verse_tempo_bpm : play_over.tempo_bpm;
    return fmt::format("Tempo: cannot be compared ({}).", clean_text(why.reason));
  }
  std::string line = fmt::format("Tempo {}, first phrase of the verse {}",
                                 write_number(*play_over.tempo_bpm, kTempo),
                                 write_number(*play_over.verse_tempo_bpm, kTempo));
  if (!play_over.tempo_difference_percent) return line + ".";
  return fmt::format("{}; play-over against verse: {}.", line,
                     compared(*play_over.tempo_difference_percent,
                              play_over.tempo_uncertainty_percent, "quicker", "slower"));
}

std::string slowing_promise(const PlayOverMeasures& play_over) {
  if (!play_over.slowing_percent) {
    return fmt::format("Slowing at its end: not known ({}).",
                       clean_text(play_over.slowing_percent.reason));
  }
  return fmt::format("Its end against the rest of it: {}.",
                     compared(*play_over.slowing_percent, play_over.slowing_uncertainty_percent,
                              "slower", "quicker"));
}

std::string strength(const char* name, const Measured<double>& play_over,
                     const Measured<double>& verse, NumberStyle style) {
  if (!play_over || !verse) {
    return fmt::format("{}: not known ({}).", name,
                       clean_text(play_over ? verse.reason : play_over.reason));
  }
  return fmt::format("{}: {} against {} in the same bars of the verse.", name,
                     write_number(*play_over, style), write_number(*verse, style));
}

}  // namespace

std::string tempo_line(const practice::Review& review) {
  return fmt::format("Set tempo {} a minute (the beat is a {}).",
                     write_short(review.plan.tempo_bpm, {2, ""}), beat_words(review.plan.beat));
}

std::string passes_line(const practice::Review& review) {
  const std::size_t count = review.alignment.passes.size();
  std::string line = fmt::format("{} {}", count, count == 1 ? "pass" : "passes");
  if (review.runs > 1) line += fmt::format(" in {} runs through the hymn", review.runs);
  const char* separator = ": ";
  for (std::size_t i = 0; i < count; ++i) {
    line += separator + pass_name(review, static_cast<int>(i));
    separator = ", ";
  }
  line += ".";
  if (review.alignment.label_source == "lyrics") {
    return line + " Named by the number of verses in the words.";
  }
  if (review.alignment.label_source == "order") return line + " Named by their order in the take.";
  return line;
}

std::vector<std::string> play_over_lines(const practice::Review& review) {
  const auto& play_over = review.timing.play_over;
  if (!play_over) {
    return {fmt::format("Not compared: {}.", clean_text(play_over.reason))};
  }
  std::vector<std::string> lines = {tempo_promise(*play_over), slowing_promise(*play_over)};
  const auto& p = *play_over;
  if (p.loudness_sone || !p.mean_velocity) {
    lines.push_back(strength("Loudness", p.loudness_sone, p.verse_loudness_sone, kSone));
  }
  if (p.upper_loudness_sone) {
    lines.push_back(
        strength("Upper bands", p.upper_loudness_sone, p.verse_upper_loudness_sone, kSone));
  }
  if (p.mean_velocity) {
    lines.push_back(
        strength("Touch (mean velocity)", p.mean_velocity, p.verse_mean_velocity, kWhole));
  }
  return lines;
}

std::string bar_of(const practice::Review& review, Tick at) {
  if (review.score.bars.empty()) return {};
  return clean_text(music::bar_at(review.score, at).number);
}

}  // namespace loftbeat::report
