#include "line_player.h"

#include <algorithm>
#include <map>

namespace loftbeat::practice {
namespace {

struct Key {
  double on = 0;
  double off = 0;
  int pitch = 60;
};

class LinePlaying {
 public:
  LinePlaying(const music::Score& score, const LinePlayer& player, std::uint64_t seed)
      : score_(score), player_(player), random_(seed) {}

  void play(TickSpan span, Slip slip) {
    std::map<Tick, std::vector<music::Note>> chords;
    for (const music::Note& note : score_.notes) {
      if (!span.contains(note.onset)) continue;
      if (player_.hands == Hands::four_parts || note.voice == 0) chords[note.onset].push_back(note);
    }
    if (slip == Slip::upbeat_left_out) chords.erase(chords.begin());
    const Tick slipped = place_of_slip(chords);
    const Tick begin = chords.empty() ? span.begin : chords.begin()->first;
    for (auto& [onset, chord] : chords) {
      const double at = now_ + seconds_of(onset - begin) + normal(player_.jitter_s);
      const Slip here = onset == slipped ? slip : Slip::none;
      strike(chord, at, here);
    }
    now_ += seconds_of(span.end - begin) + 0.2 * player_.quarter_s;
  }

  take::CleanTake take() {
    std::stable_sort(keys_.begin(), keys_.end(),
                     [](const Key& a, const Key& b) { return a.on < b.on; });
    take::CleanTake take;
    for (const Key& key : keys_) {
      take::TakenNote note;
      note.on = instant_from_seconds(key.on);
      note.off = note.sound_off = instant_from_seconds(key.off);
      note.pitch = static_cast<std::uint8_t>(std::clamp(key.pitch, 0, 127));
      take.notes.push_back(note);
    }
    return take;
  }

 private:
  // An onset of the tune (the topmost voice).
  Tick place_of_slip(const std::map<Tick, std::vector<music::Note>>& chords) {
    std::vector<Tick> places;
    for (const auto& [onset, chord] : chords)
      if (std::any_of(chord.begin(), chord.end(), [](const auto& n) { return n.voice == 0; }))
        places.push_back(onset);
    return places.empty() ? -1 : places[random_() % places.size()];
  }

  void strike(const std::vector<music::Note>& chord, double at, Slip slip) {
    for (const music::Note& note : chord) {
      const double on = at + uniform(player_.spread_s);
      const double off = at + seconds_of(note.length) * 0.92 + normal(0.02);
      int pitch = note.pitch + player_.transposed;
      if (note.voice == 0 && slip == Slip::missed) continue;
      if (note.voice == 0 && slip == Slip::substituted) pitch += wrong_step();
      keys_.push_back({on, std::max(off, on + 0.03), pitch});
      if (note.voice != 0 || slip != Slip::added) continue;
      const double half = at + seconds_of(note.length) / 2;
      keys_.push_back({half, half + 0.1, pitch + wrong_step()});
    }
  }

  int wrong_step() {
    const int step = 1 + static_cast<int>(random_() % 4);
    return random_() % 2 == 0 ? step : -step;
  }
  double seconds_of(Tick ticks) const { return quarters(ticks) * player_.quarter_s; }
  double normal(double sd) { return std::normal_distribution<double>(0, 1)(random_) * sd; }
  double uniform(double most) {
    return std::uniform_real_distribution<double>(0, 1)(random_) * most;
  }

  const music::Score& score_;
  const LinePlayer& player_;
  std::mt19937_64 random_;
  std::vector<Key> keys_;
  double now_ = 1;
};

}  // namespace

take::CleanTake play_lines(const music::Score& score, const std::vector<std::size_t>& phrases,
                           const LinePlayer& player, std::uint64_t seed) {
  LinePlaying playing(score, player, seed);
  Slip slip = player.slip;
  for (const std::size_t phrase : phrases) {
    if (phrase < score.phrases.size()) {
      playing.play(score.phrases[phrase].span, slip);
    } else {
      const std::size_t last = std::min(score.notes.size() - 1, 4 * kNotesOfALine);
      playing.play({0, score.notes[last].onset}, slip);
    }
    slip = Slip::none;
  }
  return playing.take();
}

}  // namespace loftbeat::practice
