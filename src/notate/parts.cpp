#include "notate/parts.h"

#include <algorithm>
#include <map>
#include <tuple>

#include "notate/part_costs.h"
#include "notate/shares.h"

namespace loftbeat::notate {
namespace {

constexpr std::size_t kSharingsKept = 80;
constexpr double kObeyed = 100;  // to give a key to another part than was answered

using Held = std::array<PartNow, kMostVoices>;

struct Sharing {
  int parent = -1;
  int share = 0;
  Held now{};
  double cost = 0;
};

class PartFinder {
 public:
  PartFinder(const std::vector<StruckKey>& keys, const std::vector<StruckChord>& chords, int voices)
      : keys_(keys), chords_(chords), voices_(voices) {}

  Parts find() {
    std::vector<int> ends = {0};
    all_.push_back({});
    for (const StruckChord& chord : chords_) {
      const std::vector<Share>& shares = shares_of(chord.keys.size());
      std::vector<Sharing> next;
      for (const int end : ends)
        for (std::size_t s = 0; s < shares.size(); ++s) {
          Sharing way = all_[static_cast<std::size_t>(end)];
          way.parent = end;
          way.share = static_cast<int>(s);
          way.cost += apply(chord, shares[s], way.now);
          next.push_back(way);
        }
      ends = keep(std::move(next));
    }
    return trace(ends.empty() ? 0 : ends.front());
  }

 private:
  const std::vector<Share>& shares_of(std::size_t keys) {
    auto& shares = shares_[keys];
    if (shares.empty()) shares = all_shares(keys, voices_);
    return shares;
  }
  double apply(const StruckChord& chord, const Share& share, Held& now) const;
  [[nodiscard]] double give(const StruckChord& chord, const Share::Range& range, int voice,
                            PartNow& part) const;
  std::vector<int> keep(std::vector<Sharing> ways);
  Parts trace(int end);
  void tell_other(const StruckChord& chord, const Sharing& before, const Sharing& taken,
                  Parts& parts);

  const std::vector<StruckKey>& keys_;
  const std::vector<StruckChord>& chords_;
  int voices_;
  std::map<std::size_t, std::vector<Share>> shares_;
  std::vector<Sharing> all_;
};

// A part gets its keys; the outer one of several is what the part goes on from.
double PartFinder::give(const StruckChord& chord, const Share::Range& range, int voice,
                        PartNow& part) const {
  double cost = 0;
  const bool bass = voice + 1 == voices_;
  for (std::size_t i = range.begin; i < range.end; ++i) {
    const StruckKey& key = keys_[chord.keys[i]];
    if (key.pedal && !bass) cost += kPedalCost;
    if (key.voice && std::min(*key.voice, voices_ - 1) != voice) cost += kObeyed;
  }
  const std::size_t lead = bass ? range.end - std::size_t{1} : range.begin;
  const StruckKey& key = keys_[chord.keys[lead]];
  if (part.key >= 0) {
    cost += leap_cost(part.pitch, key.pitch, bass) + touch_cost(part, chord.at);
  } else if (chord.at != chords_.front().at) {
    cost += kFirstNoteCost;
  }
  cost += compass_cost(key.pitch, voice, voices_);
  part = {static_cast<int>(chord.keys[lead]), key.pitch, key.at, key.released};
  return cost;
}

// Parts that hold what others strike now, and parts that lie above their neighbour.
double standing_cost(const Held& now, int voices, Tick at) {
  double cost = 0;
  for (int v = 0; v + 1 < voices; ++v)
    cost +=
        crossing_cost(now[static_cast<std::size_t>(v)], now[static_cast<std::size_t>(v) + 1], at);
  for (int v = 0; v < voices; ++v) {
    const PartNow& holds = now[static_cast<std::size_t>(v)];
    if (holds.key < 0 || holds.at == at) continue;
    for (int w = 0; w < voices; ++w) {
      const PartNow& strikes = now[static_cast<std::size_t>(w)];
      if (strikes.key >= 0 && strikes.at == at && strikes.pitch == holds.pitch)
        cost += kTakenAwayCost;
    }
  }
  return cost;
}

double PartFinder::apply(const StruckChord& chord, const Share& share, Held& now) const {
  double cost = kSharedCost * share.shared + kAddedCost * share.added;
  for (int voice = 0; voice < voices_; ++voice) {
    const Share::Range& range = share.parts[static_cast<std::size_t>(voice)];
    if (range.end > range.begin)
      cost += give(chord, range, voice, now[static_cast<std::size_t>(voice)]);
  }
  return cost + standing_cost(now, voices_, chord.at);
}

std::vector<int> PartFinder::keep(std::vector<Sharing> ways) {
  std::stable_sort(ways.begin(), ways.end(),
                   [](const Sharing& a, const Sharing& b) { return a.cost < b.cost; });
  std::vector<int> kept;
  std::vector<std::array<int, kMostVoices>> seen;
  for (const Sharing& way : ways) {
    if (kept.size() >= kSharingsKept) break;
    std::array<int, kMostVoices> held{};
    for (std::size_t v = 0; v < held.size(); ++v) held[v] = way.now[v].key;
    if (std::find(seen.begin(), seen.end(), held) != seen.end()) continue;
    seen.push_back(held);
    kept.push_back(static_cast<int>(all_.size()));
    all_.push_back(way);
  }
  return kept;
}

// The best other way of one chord after the same past, as near as one chord can tell.
void PartFinder::tell_other(const StruckChord& chord, const Sharing& before, const Sharing& taken,
                            Parts& parts) {
  const std::vector<Share>& shares = shares_of(chord.keys.size());
  double best = 1000;
  const Share* other = nullptr;
  for (std::size_t s = 0; s < shares.size(); ++s) {
    if (static_cast<int>(s) == taken.share) continue;
    Held now = before.now;
    const double cost = before.cost + apply(chord, shares[s], now) - taken.cost;
    if (cost < best) {
      best = cost;
      other = &shares[s];
    }
  }
  std::vector<int> voices(chord.keys.size(), 0);
  for (int v = voices_ - 1; other != nullptr && v >= 0; --v) {
    const Share::Range& range = other->parts[static_cast<std::size_t>(v)];
    for (std::size_t i = range.begin; i < range.end; ++i) voices[i] = v;
  }
  parts.margins.push_back(best);
  parts.voice_of_other.push_back(std::move(voices));
}

Parts PartFinder::trace(int end) {
  std::vector<int> path;
  for (int index = end; index > 0; index = all_[static_cast<std::size_t>(index)].parent)
    path.push_back(index);
  std::reverse(path.begin(), path.end());
  Parts parts;
  parts.voices.resize(static_cast<std::size_t>(voices_));
  for (std::size_t c = 0; c < path.size(); ++c) {
    const StruckChord& chord = chords_[c];
    const Sharing way = all_[static_cast<std::size_t>(path[c])];
    const Sharing before = all_[static_cast<std::size_t>(way.parent)];
    const Share share = shares_of(chord.keys.size())[static_cast<std::size_t>(way.share)];
    for (std::size_t v = 0; v < parts.voices.size(); ++v) {
      const Share::Range& range = share.parts[v];
      if (range.begin == range.end) continue;
      PartStroke stroke{chord.at, {}};
      for (std::size_t i = range.begin; i < range.end; ++i) stroke.keys.push_back(chord.keys[i]);
      parts.voices[v].push_back(std::move(stroke));
    }
    tell_other(chord, before, way, parts);
  }
  return parts;
}

}  // namespace

std::vector<StruckChord> chords_of(const std::vector<StruckKey>& keys) {
  std::map<Tick, std::vector<std::size_t>> places;
  for (std::size_t i = 0; i < keys.size(); ++i) places[keys[i].at].push_back(i);
  std::vector<StruckChord> chords;
  for (auto& [at, indices] : places) {
    std::stable_sort(indices.begin(), indices.end(),
                     [&](std::size_t a, std::size_t b) { return keys[a].pitch > keys[b].pitch; });
    chords.push_back({at, std::move(indices)});
  }
  return chords;
}

int voices_needed(const std::vector<StruckKey>& keys, const std::vector<StruckChord>& chords,
                  int most) {
  std::vector<std::size_t> counts;
  std::vector<std::size_t> held;
  for (const StruckChord& chord : chords) {
    const Tick late = chord.at + kTicksPerQuarter / 8;
    std::erase_if(held, [&](std::size_t key) { return keys[key].released <= late; });
    counts.push_back(held.size() + chord.keys.size());
    held.insert(held.end(), chord.keys.begin(), chord.keys.end());
  }
  if (counts.empty()) return 1;
  const auto eighth = static_cast<std::ptrdiff_t>(counts.size() / 8);
  std::sort(counts.begin(), counts.end(), std::greater<>());
  return static_cast<int>(
      std::clamp<std::size_t>(*(counts.begin() + eighth), 1, static_cast<std::size_t>(most)));
}

Parts share_out(const std::vector<StruckKey>& keys, const std::vector<StruckChord>& chords,
                int voices) {
  return PartFinder(keys, chords, std::clamp(voices, 1, kMostVoices)).find();
}

}  // namespace loftbeat::notate
