#include "notate/lines.h"

#include <algorithm>
#include <cmath>

namespace loftbeat::notate {
namespace {

double beats_before(const std::vector<StruckChord>& chords, std::size_t i, const Setting& setting) {
  return static_cast<double>(chords[i].at - chords[i - 1].at) /
         static_cast<double>(beat_length(setting));
}

}  // namespace

std::vector<Tick> lines_from_marks(const std::vector<double>& marks,
                                   const std::vector<StruckChord>& chords, const TimeLine& line,
                                   const Setting& setting) {
  constexpr double kLate = 0.75;  // beats that a mark may come after the line has begun
  std::vector<Tick> lines;
  for (const double mark : marks) {
    const Tick pressed = line.tick_at(mark);
    Tick best = -1;
    double least = 4;  // beats from any chord: no line begins there
    for (std::size_t i = 1; i < chords.size(); ++i) {
      const double ahead =
          static_cast<double>(chords[i].at - pressed) / static_cast<double>(beat_length(setting));
      if (ahead < -kLate) continue;
      const double cost = std::abs(ahead) - std::min(beats_before(chords, i, setting), 3.0) * 0.75;
      if (cost < least) least = cost, best = chords[i].at;
      if (ahead > 5) break;
    }
    if (best > 0) lines.push_back(best);
  }
  std::sort(lines.begin(), lines.end());
  lines.erase(std::unique(lines.begin(), lines.end()), lines.end());
  return lines;
}

LineGuess guess_lines(const std::vector<StruckChord>& chords, Tick end, const Setting& setting) {
  LineGuess best;
  const Tick bar = bar_length(setting);
  const double longest = 1.9;  // beats that a line's last note has at least
  for (const int bars : {2, 4}) {
    LineGuess guess;
    int ends = 0, all = 0;
    for (Tick at = bars * bar; at + bar <= end; at += bars * bar) {
      ++all;
      const auto chord =
          std::lower_bound(chords.begin(), chords.end(), at,
                           [](const StruckChord& c, Tick tick) { return c.at < tick; });
      if (chord == chords.end() || chord == chords.begin() || chord->at != at) continue;
      if (beats_before(chords, static_cast<std::size_t>(chord - chords.begin()), setting) < longest)
        continue;
      ++ends;
      guess.lines.push_back(at);
    }
    if (all == 0) continue;
    guess.sureness = static_cast<double>(ends) / all;
    if (guess.sureness >= 0.6 && guess.sureness > best.sureness + 0.01) best = guess;
  }
  return best;
}

}  // namespace loftbeat::notate
