#include "music/smf_score_voices.h"

#include <algorithm>
#include <array>
#include <cstdlib>
#include <limits>
#include <numeric>
#include <tuple>

namespace loftbeat::music {
namespace {

constexpr std::size_t kMostVoices = 16;  // of one part

// How many keys of a part sound together: the most that a tenth of its onsets reach.
std::size_t usual_polyphony(const std::vector<GridNote>& notes) {
  std::array<std::size_t, kMostVoices + 1> onsets_with{};
  std::vector<Tick> ends;
  std::size_t onsets = 0;
  for (std::size_t i = 0; i < notes.size();) {
    const Tick now = notes[i].onset;
    ends.erase(std::remove_if(ends.begin(), ends.end(), [&](Tick end) { return end <= now; }),
               ends.end());
    for (; i < notes.size() && notes[i].onset == now; ++i) {
      if (ends.size() < kMostVoices) ends.push_back(now + notes[i].length);
    }
    ++onsets_with[ends.size()];
    ++onsets;
  }
  std::size_t reached = 0;
  for (std::size_t voices = kMostVoices; voices > 1; --voices) {
    reached += onsets_with[voices];
    if (reached * 10 >= onsets) return voices;
  }
  return 1;
}

struct Voice {
  int pitch = -1;  // the last one; -1 before the first
  Tick end = 0;    // when it is free again
};

class PartVoices {
 public:
  explicit PartVoices(std::size_t count) : voices_(count) {}

  // `chord` is one onset's notes, highest first. Fills `voice_of`, one for each.
  void assign(const std::vector<GridNote>& chord, std::vector<int>& voice_of) {
    const Tick now = chord.front().onset;
    free_.clear();
    int highest_held = -1;
    for (std::size_t v = 0; v < voices_.size(); ++v) {
      if (voices_[v].end <= now) {
        free_.push_back(v);
      } else {
        highest_held = std::max(highest_held, voices_[v].pitch);
      }
    }
    voice_of.assign(chord.size(), -1);
    match(chord, chord.front().pitch > highest_held, voice_of);
    add_the_rest(voice_of);
    for (std::size_t i = 0; i < chord.size(); ++i) note_down(chord[i], voice_of[i]);
  }

 private:
  static constexpr int kUnmatched = 1000;  // dearer than any leap
  static constexpr int kTop = 10'000;      // the top note belongs to the top voice

  [[nodiscard]] int cost(const GridNote& note, std::size_t voice, bool on_top) const {
    const int last = voices_[voice].pitch;
    const int leap = last < 0 ? 0 : std::abs(note.pitch - last);
    return on_top && voice == 0 ? leap - kTop : leap;
  }

  // Order-preserving assignment of the chord to the free voices with the least sum of leaps: a
  // table over (notes placed, voices used), walked back from its end.
  void match(const std::vector<GridNote>& chord, bool top_is_new, std::vector<int>& voice_of) {
    const std::size_t rows = std::min(chord.size(), kMostChord);
    const std::size_t columns = free_.size();
    table_.assign((rows + 1) * (columns + 1), 0);
    const auto at = [&](std::size_t i, std::size_t k) -> int& {
      return table_[i * (columns + 1) + k];
    };
    const auto placed = [&](std::size_t i, std::size_t k) {
      return at(i - 1, k - 1) + cost(chord[i - 1], free_[k - 1], top_is_new && i == 1);
    };
    for (std::size_t i = 1; i <= rows; ++i) {
      at(i, 0) = at(i - 1, 0) + kUnmatched;
      for (std::size_t k = 1; k <= columns; ++k) {
        at(i, k) = std::min({placed(i, k), at(i, k - 1), at(i - 1, k) + kUnmatched});
      }
    }
    for (std::size_t i = rows, k = columns; i > 0 && k > 0;) {
      if (at(i, k) == placed(i, k)) {
        voice_of[--i] = static_cast<int>(free_[--k]);
      } else if (at(i, k) == at(i, k - 1)) {
        --k;
      } else {
        --i;
      }
    }
  }

  // Notes beyond the part's voices: one more below each, taken again as soon as it is free.
  void add_the_rest(std::vector<int>& voice_of) const {
    auto extra = static_cast<int>(voices_.size());
    for (int& voice : voice_of) {
      if (voice < 0) voice = extra < static_cast<int>(kMostVoices) ? extra++ : extra;
    }
  }

  void note_down(const GridNote& note, int voice) {
    if (static_cast<std::size_t>(voice) >= voices_.size()) return;
    voices_[static_cast<std::size_t>(voice)] = {note.pitch, note.onset + note.length};
  }

  static constexpr std::size_t kMostChord = 32;
  std::vector<Voice> voices_;
  std::vector<std::size_t> free_;
  std::vector<int> table_;
};

// The voices of one part's notes, counted from 0 within the part; returns how many there are.
int part_voices(std::vector<GridNote>& notes, int first_voice, int staff, std::vector<Note>& into) {
  std::sort(notes.begin(), notes.end(), [](const GridNote& a, const GridNote& b) {
    return std::tie(a.onset, b.pitch, a.length) < std::tie(b.onset, a.pitch, b.length);
  });
  PartVoices voices(usual_polyphony(notes));
  std::vector<GridNote> chord;
  std::vector<int> voice_of;
  int count = 0;
  for (std::size_t i = 0; i < notes.size();) {
    chord.clear();
    const Tick now = notes[i].onset;
    for (; i < notes.size() && notes[i].onset == now; ++i) chord.push_back(notes[i]);
    voices.assign(chord, voice_of);
    for (std::size_t k = 0; k < chord.size(); ++k) {
      const int voice = voice_of[k];
      into.push_back({now, chord[k].length, chord[k].pitch, first_voice + voice, staff});
      count = std::max(count, voice + 1);
    }
  }
  return count;
}

std::vector<std::vector<GridNote>> split_by_part(const std::vector<GridNote>& notes, int parts) {
  std::vector<std::vector<GridNote>> by_part(static_cast<std::size_t>(parts));
  for (const GridNote& note : notes) by_part[static_cast<std::size_t>(note.part)].push_back(note);
  by_part.erase(
      std::remove_if(by_part.begin(), by_part.end(), [](const auto& part) { return part.empty(); }),
      by_part.end());
  return by_part;
}

// Whole hundredths of a semitone, so that the order does not hang on rounding.
std::int64_t mean_pitch(const std::vector<GridNote>& notes) {
  std::int64_t sum = 0;
  for (const GridNote& note : notes) sum += note.pitch;
  return sum * 100 / static_cast<std::int64_t>(notes.size());
}

}  // namespace

void give_voices(Score& score, const std::vector<GridNote>& notes, int parts) {
  auto by_part = split_by_part(notes, parts);
  std::vector<std::pair<std::int64_t, std::size_t>> order;
  for (std::size_t p = 0; p < by_part.size(); ++p) order.emplace_back(-mean_pitch(by_part[p]), p);
  std::sort(order.begin(), order.end());
  for (const auto& [pitch, part] : order) {
    score.voices += part_voices(by_part[part], score.voices, score.staves, score.notes);
    ++score.staves;
  }
  std::sort(score.notes.begin(), score.notes.end(), [](const Note& a, const Note& b) {
    return std::tie(a.onset, a.pitch, a.voice, a.length) <
           std::tie(b.onset, b.pitch, b.voice, b.length);
  });
}

}  // namespace loftbeat::music
