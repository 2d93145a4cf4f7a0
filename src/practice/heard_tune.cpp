#include "practice/heard_tune.h"

#include <algorithm>

namespace loftbeat::practice {
namespace {

// Keys that went down together.
struct Stroke {
  double at = 0;    // the first key's
  double last = 0;  // the last key's
  int top = -1;
  double top_off = 0;
  double top_at = 0;
};

constexpr double kLeastSpread = 0.05;
constexpr double kMostSpread = 0.12;
constexpr double kFirstGuess = 0.07;
constexpr double kSpreadShare = 0.3;     // of the usual time between strokes
constexpr double kLegatoOverlap = 0.06;  // a key may stay down so long into the next stroke
constexpr double kLegatoShare = 0.35;    // or so much of the usual time
constexpr std::size_t kMostKeys = 4000;  // looked at

std::vector<Stroke> strokes_of(const take::CleanTake& take, double spread) {
  std::vector<Stroke> strokes;
  const std::size_t count = std::min(take.notes.size(), kMostKeys);
  for (std::size_t i = 0; i < count; ++i) {
    const take::TakenNote& note = take.notes[i];
    const double at = seconds(note.on);
    if (strokes.empty() || at - strokes.back().at > spread) strokes.push_back({at, at});
    Stroke& stroke = strokes.back();
    stroke.last = at;
    if (note.pitch <= stroke.top) continue;
    stroke.top = note.pitch;
    stroke.top_at = at;
    stroke.top_off = seconds(note.off);
  }
  return strokes;
}

double usual_distance(const std::vector<Stroke>& strokes) {
  std::vector<double> distances;
  for (std::size_t i = 1; i < strokes.size(); ++i)
    distances.push_back(strokes[i].at - strokes[i - 1].at);
  if (distances.empty()) return 0.5;
  const auto middle = distances.begin() + static_cast<std::ptrdiff_t>(distances.size() / 2);
  std::nth_element(distances.begin(), middle, distances.end());
  return *middle;
}

}  // namespace

std::vector<HeardNote> heard_tune(const take::CleanTake& take) {
  const double first = usual_distance(strokes_of(take, kFirstGuess));
  const double spread = std::clamp(kSpreadShare * first, kLeastSpread, kMostSpread);
  const std::vector<Stroke> strokes = strokes_of(take, spread);
  const double overlap = std::max(kLegatoOverlap, kLegatoShare * usual_distance(strokes));
  std::vector<HeardNote> tune;
  std::vector<Stroke> held;
  for (const Stroke& stroke : strokes) {
    if (tune.size() == kMostHeardNotes) break;
    std::erase_if(held, [&](const Stroke& h) { return h.top_off <= stroke.at + overlap; });
    const bool covered =
        std::any_of(held.begin(), held.end(), [&](const Stroke& h) { return h.top > stroke.top; });
    if (covered) continue;
    held.push_back(stroke);
    const double start = tune.empty() ? stroke.at : strokes.front().at;
    tune.push_back({stroke.at - start, stroke.top});
  }
  return tune;
}

}  // namespace loftbeat::practice
