#include "practice/tune_search.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <optional>

namespace loftbeat::practice {
namespace {

// All costs are assumptions, chosen so that one slip costs about 1; tried on simulated playing.
constexpr float kWrong = 1.0F;
constexpr float kMissed = 1.0F;
constexpr float kAdded = 0.95F;
constexpr float kUpbeatLeftOut = 0.3F;
constexpr float kOtherLine = 1.2F;        // the playing begins with another line than the first
constexpr float kLineJump = 0.9F;         // from a line's end to another line's beginning
constexpr float kMostRhythm = 0.4F;       // a note
constexpr float kRhythmPerOctave = 0.4F;  // a note twice as long or half as long as expected
constexpr double kSure = 0.33;
constexpr double kNothing = 0.5;
constexpr double kClearlyAhead = 0.9;
constexpr float kNever = std::numeric_limits<float>::infinity();

constexpr int kMostShift = 48;  // semitones either way
constexpr std::size_t kKeysTried = 5;
constexpr std::size_t kCountedNotes = 14;  // of the beginning, to guess the key by

// The middle of the window of an eighth that holds most of the values; they must not be none.
float densest(std::vector<float>& values) {
  constexpr float kWindow = 0.125F;
  std::sort(values.begin(), values.end());
  std::size_t best = 0;
  std::size_t most = 0;
  for (std::size_t first = 0, last = 0; first < values.size(); ++first) {
    while (last < values.size() && values[last] - values[first] <= kWindow) ++last;
    if (last - first <= most) continue;
    most = last - first;
    best = first;
  }
  return values[best + most / 2];
}

// Distances between onsets as powers of two of a second.
std::vector<float> rhythm_of_heard(const std::vector<HeardNote>& heard) {
  std::vector<float> rhythm = {0};
  for (std::size_t i = 1; i < heard.size(); ++i)
    rhythm.push_back(static_cast<float>(std::log2(std::max(heard[i].at - heard[i - 1].at, 1e-3))));
  return rhythm;
}

struct Alignment {
  float cost = kNever;
  std::size_t line = 0;
};

// One tune against the playing; keeps its tables from tune to tune.
class TuneComparer {
 public:
  explicit TuneComparer(const std::vector<HeardNote>& heard)
      : heard_(heard), heard_rhythm_(rhythm_of_heard(heard)) {}

  TuneMatch compare(const TuneOutline& tune) {
    prepare(tune);
    TuneMatch best;
    best.cost = std::numeric_limits<double>::infinity();
    for (const int shift : likely_shifts(tune)) {
      find_speed(tune, shift);
      const Alignment found = align(tune, shift);
      if (static_cast<double>(found.cost) >= best.cost) continue;
      best.cost = static_cast<double>(found.cost);
      best.transposed = shift;
      best.line = found.line;
    }
    best.per_note = best.cost / static_cast<double>(heard_.size());
    return best;
  }

 private:
  void prepare(const TuneOutline& tune) {
    const std::size_t size = tune.notes.size();
    rhythm_.assign(size, 0);
    begins_line_.assign(size, false);
    for (std::size_t j = 1; j < size; ++j) {
      const Tick step = tune.notes[j].onset - tune.notes[j - 1].onset;
      rhythm_[j] = static_cast<float>(std::log2(std::max(quarters(step), 1e-3)));
    }
    for (const std::size_t line : tune.lines) begins_line_[line] = true;
  }

  // The keys in which most of the beginning lies where it should, line by line.
  std::vector<int> likely_shifts(const TuneOutline& tune) {
    std::array<int, 2 * kMostShift + 1> best{};
    std::array<int, 2 * kMostShift + 1> counts{};
    const std::size_t heard = std::min(heard_.size(), kCountedNotes);
    for (const std::size_t line : tune.lines) {
      counts.fill(0);
      for (std::size_t i = 0; i < heard; ++i) count_shifts(tune, line, i, counts);
      for (std::size_t k = 0; k < best.size(); ++k) best[k] = std::max(best[k], counts[k]);
    }
    std::vector<int> shifts;
    while (shifts.size() < kKeysTried) {
      const auto most = std::max_element(best.begin(), best.end());
      if (*most == 0) break;
      shifts.push_back(static_cast<int>(most - best.begin()) - kMostShift);
      *most = 0;
    }
    return shifts;
  }

  // Heard note i against the notes of the line that it may stand for; those straight below count
  // twice, and three more where the note before fits too.
  void count_shifts(const TuneOutline& tune, std::size_t line, std::size_t i,
                    std::array<int, 2 * kMostShift + 1>& counts) const {
    const std::size_t to = std::min(line + i + 3, tune.notes.size());
    for (std::size_t j = line + (i < 2 ? 0 : i - 2); j < to; ++j) {
      const int shift = heard_[i].pitch - tune.notes[j].pitch + kMostShift;
      if (shift < 0 || shift > 2 * kMostShift) continue;
      const bool both =
          i > 0 && j > 0 && heard_[i - 1].pitch - tune.notes[j - 1].pitch == shift - kMostShift;
      counts[static_cast<std::size_t>(shift)] += (j == line + i ? 2 : 1) + (both ? 3 : 0);
    }
  }

  // Seconds of a crotchet, as a power of two: where most pairs of notes that fit agree.
  void find_speed(const TuneOutline& tune, int shift) {
    speeds_.clear();
    const auto fits = [&](std::size_t i, std::size_t j) {
      return heard_[i].pitch - tune.notes[j].pitch == shift;
    };
    for (std::size_t i = 1; i < heard_.size(); ++i) {
      for (std::size_t j = 1; j < tune.notes.size(); ++j)
        if (fits(i, j) && fits(i - 1, j - 1)) speeds_.push_back(heard_rhythm_[i] - rhythm_[j]);
    }
    for (std::size_t i = 1; speeds_.empty() && i < std::min(heard_.size(), rhythm_.size()); ++i)
      speeds_.push_back(heard_rhythm_[i] - rhythm_[i]);
    speed_ = speeds_.empty() ? 0 : densest(speeds_);
  }

  // What it costs that heard note i stands for tune note j right after i - 1 stood for j - 1.
  [[nodiscard]] float note_cost(const TuneOutline& tune, std::size_t i, std::size_t j,
                                int shift) const {
    return heard_[i].pitch - tune.notes[j].pitch == shift ? 0 : kWrong;
  }
  [[nodiscard]] float rhythm_cost(std::size_t i, std::size_t j) const {
    if (begins_line_[j]) return 0;  // one breathes there
    return std::min(kMostRhythm,
                    kRhythmPerOctave * std::abs(heard_rhythm_[i] - rhythm_[j] - speed_));
  }

  // row[j]: the least cost of all that was heard so far, the last of it standing at tune note j.
  Alignment align(const TuneOutline& tune, int shift) {
    const std::size_t size = tune.notes.size();
    before_.assign(size, {});
    begin(tune, shift);
    for (std::size_t i = 1; i < heard_.size(); ++i) {
      const Alignment jump = best_line_end();
      now_.assign(size, {});
      for (std::size_t j = 0; j < size; ++j) {
        Alignment best = before_[j];  // an added note
        best.cost += kAdded;
        const float note = note_cost(tune, i, j, shift);
        if (j >= 1) take(best, before_[j - 1], note + rhythm_cost(i, j));
        if (j >= 2) take(best, before_[j - 2], note + kMissed);
        if (begins_line_[j]) take(best, jump, note + kLineJump);
        now_[j] = best;
      }
      std::swap(before_, now_);
    }
    Alignment best;
    for (const Alignment& end : before_)
      if (end.cost < best.cost) best = end;
    return best;
  }

  static void take(Alignment& best, const Alignment& from, float more) {
    if (from.cost + more < best.cost) best = {from.cost + more, from.line};
  }

  // The first note heard: the beginning of a line, or the note after it.
  void begin(const TuneOutline& tune, int shift) {
    for (std::size_t line = 0; line < tune.lines.size(); ++line) {
      const std::size_t at = tune.lines[line];
      const float other = line == 0 ? 0 : kOtherLine;
      const auto place = [&](std::size_t j, float cost) {
        if (j < before_.size() && cost < before_[j].cost) before_[j] = {cost, line};
      };
      place(at, other + note_cost(tune, 0, at, shift));
      if (at + 1 < tune.notes.size())
        place(at + 1, other + kUpbeatLeftOut + note_cost(tune, 0, at + 1, shift));
    }
  }

  [[nodiscard]] Alignment best_line_end() const {
    Alignment best;
    for (std::size_t j = 0; j < before_.size(); ++j) {
      const bool ends = j + 1 == before_.size() || begins_line_[j + 1];
      if (ends && before_[j].cost < best.cost) best = before_[j];
    }
    return best;
  }

  const std::vector<HeardNote>& heard_;
  std::vector<float> heard_rhythm_;
  std::vector<float> rhythm_;
  std::vector<bool> begins_line_;
  std::vector<float> speeds_;
  float speed_ = 0;
  std::vector<Alignment> before_;
  std::vector<Alignment> now_;
};

// The same tune once more, in another file: the same steps for as long as it is played.
bool same_beginning(const TuneOutline& a, const TuneOutline& b) {
  const std::size_t size = std::min({a.notes.size(), b.notes.size(), kMostHeardNotes});
  for (std::size_t i = 1; i < size; ++i) {
    if (a.notes[i].pitch - a.notes[0].pitch != b.notes[i].pitch - b.notes[0].pitch) return false;
  }
  return size > 0;
}

}  // namespace

std::vector<TuneMatch> find_tune(const std::vector<HeardNote>& heard,
                                 const std::vector<const TuneOutline*>& tunes, std::size_t most) {
  std::vector<TuneMatch> matches;
  if (heard.size() < kLeastHeardNotes) return matches;
  TuneComparer comparer(heard);
  for (std::size_t t = 0; t < tunes.size(); ++t) {
    if (tunes[t]->notes.size() < kLeastHeardNotes) continue;
    TuneMatch match = comparer.compare(*tunes[t]);
    match.tune = t;
    if (std::isfinite(match.cost)) matches.push_back(match);
  }
  std::stable_sort(matches.begin(), matches.end(),
                   [](const TuneMatch& a, const TuneMatch& b) { return a.cost < b.cost; });
  if (matches.size() > most) matches.resize(most);
  return matches;
}

Certainty certainty_of(const std::vector<TuneMatch>& matches,
                       const std::vector<const TuneOutline*>& tunes) {
  if (matches.empty() || matches.front().per_note > kNothing) return Certainty::none;
  const TuneMatch& best = matches.front();
  if (best.per_note > kSure) return Certainty::maybe;
  const auto rival = std::find_if(matches.begin() + 1, matches.end(), [&](const TuneMatch& match) {
    return !same_beginning(*tunes[match.tune], *tunes[best.tune]);
  });
  const bool ahead = rival == matches.end() || rival->cost - best.cost >= kClearlyAhead;
  return ahead ? Certainty::sure : Certainty::maybe;
}

}  // namespace loftbeat::practice
