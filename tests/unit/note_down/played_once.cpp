#include "played_once.h"

#include <algorithm>
#include <cmath>
#include <map>

#include "simulate/random.h"

namespace loftbeat::notate {
namespace {

// Seconds of each half quaver as the player goes.
class Walk {
 public:
  Walk(const Setting& setting, const Playing& playing, Tick end, std::uint64_t seed) {
    simulate::Random random(seed, "walk");
    const double quarter = seconds_per_quarter(setting);
    const double step = 1.0 / 4;  // quarters
    const double kept = std::exp(-step / 6);
    double tempo = playing.stray * random.human(1);
    double at = 2.0, due = 2.0;
    const double wave = random.between(15, 40), phase = random.between(0, 6.283);
    for (Tick tick = 0; tick <= end + 8 * kTicksPerQuarter; tick += kTicksPerQuarter / 4) {
      times_.push_back(at);
      if (playing.wander == Playing::Wander::swinging) {
        tempo = playing.stray * std::sin(6.283 * due / wave + phase);
      } else {
        tempo = tempo * kept + playing.stray * std::sqrt(1 - kept * kept) * random.human(1);
      }
      // Who hears that he is off the click by more than a little goes back to it.
      const double back = playing.wander == Playing::Wander::swinging ? 0 : 0.05 * (due - at);
      at += step * quarter * (1 + tempo) + step * back;
      due += step * quarter;
    }
  }
  [[nodiscard]] double operator()(Tick tick) const {
    const double place = 4 * quarters(tick);
    const auto index = std::min(static_cast<std::size_t>(place), times_.size() - 2);
    const double share = place - static_cast<double>(index);
    return times_[index] + share * (times_[index + 1] - times_[index]);
  }

 private:
  std::vector<double> times_;
};

}  // namespace

Heard played_once(const music::Score& score, const Setting& setting, const Playing& playing,
                  std::uint64_t seed) {
  const Walk walk(setting, playing, score.length, seed);
  simulate::Random random(seed, "keys");
  std::map<std::pair<Tick, int>, Tick> strokes;  // what is struck: place and key -> end
  for (const music::Note& note : score.notes) {
    Tick& end = strokes[{note.onset, note.pitch}];
    end = std::max(end, note.onset + note.length);
  }
  std::map<int, std::size_t> down;  // key -> its last stroke
  Heard heard;
  heard.first_due_s = 2.0;
  for (const auto& [stroke, end] : strokes) {
    const auto& [at, pitch] = stroke;
    HeardKey key;
    key.pitch = pitch;
    key.on = walk(at) + random.human(playing.jitter_s) +
             random.between(-playing.spread_s / 2, playing.spread_s / 2);
    const double touch = random.between(playing.touch_low, playing.touch_high);
    const double length = (walk(end) - walk(at)) * touch;
    key.off = std::max(key.on + 0.05, key.on + length + random.human(0.015));
    if (const auto held = down.find(pitch); held != down.end()) {
      HeardKey& before = heard.keys[held->second];
      before.off = std::min(before.off, key.on - 0.03);
      before.off = std::max(before.off, before.on + 0.02);
    }
    down[pitch] = heard.keys.size();
    heard.keys.push_back(key);
  }
  std::sort(heard.keys.begin(), heard.keys.end(),
            [](const HeardKey& a, const HeardKey& b) { return a.on < b.on; });
  return heard;
}

}  // namespace loftbeat::notate
