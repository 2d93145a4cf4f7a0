#include "simulate/invented_harmony.h"

#include <algorithm>
#include <cstdlib>
#include <vector>

namespace loftbeat::simulate {
namespace {

constexpr std::array<int, 7> kMajorScale = {0, 2, 4, 5, 7, 9, 11};

struct Range {
  int low;
  int high;
};

bool contains(const std::vector<int>& classes, int pitch) {
  return std::find(classes.begin(), classes.end(), pitch % 12) != classes.end();
}

// The tone of the chord nearest to `from` within the range; the range's top if it holds none.
int nearest_tone(const std::vector<int>& classes, int from, Range range) {
  int best = -1;
  for (int pitch = range.low; pitch <= range.high; ++pitch) {
    if (!contains(classes, pitch)) continue;
    if (best < 0 || std::abs(pitch - from) < std::abs(best - from)) best = pitch;
  }
  return best < 0 ? range.high : best;
}

}  // namespace

int PartWriter::scale_pitch(int step) const {
  const int octave = step >= 0 ? step / 7 : -((6 - step) / 7);
  const auto degree = static_cast<std::size_t>(step - 7 * octave);
  const int home = tonic_ <= 7 ? 60 + tonic_ : 48 + tonic_;
  return home + 12 * octave + kMajorScale[degree];
}

FourParts PartWriter::under(int pitch, Place place, Random& random) {
  std::vector<std::vector<int>> chords;
  for (const std::size_t root : {0u, 3u, 4u, 5u, 1u}) {
    std::vector<int> classes;
    for (std::size_t i = 0; i < 3; ++i) {
      classes.push_back((tonic_ + kMajorScale[(root + 2 * i) % 7]) % 12);
    }
    if (contains(classes, pitch)) chords.push_back(classes);
    if (place == Place::final) break;
  }
  const double pick = random.uniform();
  // Every step of a major scale is a tone of one of these five chords.
  const auto index = static_cast<std::size_t>(pick * static_cast<double>(chords.size()));
  const std::vector<int>& classes = chords[std::min(index, chords.size() - 1)];
  alto_ = nearest_tone(classes, alto_, {std::max(55, pitch - 9), pitch - 2});
  tenor_ = nearest_tone(classes, tenor_, {std::max(48, alto_ - 10), alto_ - 2});
  bass_ = nearest_tone({classes[0]}, bass_, {std::min(40, tenor_ - 12), tenor_ - 1});
  return {pitch, alto_, tenor_, bass_};
}

}  // namespace loftbeat::simulate
