#include "follow/onset_table.h"

#include <algorithm>

namespace loftbeat::follow {
namespace {

void raise(Sound& held, Sound sound) {
  if (sound > held) held = sound;
}

void raise_octaves(Sound* row, int pitch, Sound sound) {
  for (int p = pitch % 12; p < 128; p += 12) {
    if (p != pitch) raise(row[p], sound);
  }
}

void raise_neighbours(Sound* row, int pitch) {
  for (int step : {-2, -1, 1, 2}) {
    const int p = pitch + step;
    if (p >= 0 && p < 128) raise(row[p], Sound::neighbour);
  }
}

}  // namespace

OnsetTable::OnsetTable(const music::Score& score, const std::vector<music::Phrase>& phrases) {
  end_ = score.length;
  collect(score);
  mark_starts(score, phrases);
  classify(score);
}

void OnsetTable::collect(const music::Score& score) {
  notes_.reserve(score.notes.size());
  for (std::size_t i = 0; i < score.notes.size(); ++i) {
    const music::Note& note = score.notes[i];
    if (onsets_.empty() || onsets_.back().tick != note.onset) {
      Onset onset;
      onset.tick = note.onset;
      onset.first = static_cast<std::uint32_t>(i);
      onsets_.push_back(onset);
    }
    onsets_.back().count += 1;
    onsets_.back().tune = onsets_.back().tune || note.voice == 0;
    notes_.push_back(static_cast<int>(i));
    pitches_.push_back(static_cast<std::uint8_t>(note.pitch));
  }
}

void OnsetTable::mark_starts(const music::Score& score, const std::vector<music::Phrase>& phrases) {
  for (const music::Bar& bar : score.bars) {
    const int k = at_or_after(bar.start);
    if (k < size() && onsets_[static_cast<std::size_t>(k)].tick < bar.start + bar.length) {
      onsets_[static_cast<std::size_t>(k)].bar_start = true;
    }
  }
  for (const music::Phrase& phrase : phrases) {
    const int k = at_or_after(phrase.span.begin);
    if (k < size()) onsets_[static_cast<std::size_t>(k)].phrase_start = true;
  }
  for (Onset& onset : onsets_) {
    const Tick in_bar =
        score.bars.empty() ? onset.tick : onset.tick - music::bar_at(score, onset.tick).start;
    onset.on_beat = in_bar % kTicksPerQuarter == 0;
  }
}

void OnsetTable::classify(const music::Score& score) {
  sounds_.assign(onsets_.size() * 128, Sound::foreign);
  std::vector<Tick> held_until(128, 0);
  for (std::size_t k = 0; k < onsets_.size(); ++k) {
    const Onset& onset = onsets_[k];
    Sound* row = sounds_.data() + k * 128;
    for (std::size_t p = 0; p < 128; ++p) {
      if (held_until[p] > onset.tick) row[p] = Sound::sounding;
    }
    for (std::uint32_t i = onset.first; i < onset.first + onset.count; ++i) {
      const music::Note& note = score.notes[i];
      const bool tune = note.voice == 0;
      raise(row[note.pitch], tune ? Sound::tune : Sound::chord);
      raise_octaves(row, note.pitch, tune ? Sound::tune_octave : Sound::octave);
      raise_neighbours(row, note.pitch);
      Tick& until = held_until[static_cast<std::size_t>(note.pitch)];
      until = std::max(until, note.onset + note.length);
    }
  }
}

std::uint16_t OnsetTable::bits(int k, int pitch) const {
  const Onset& onset = (*this)[k];
  const std::uint32_t count = std::min<std::uint32_t>(onset.count, 16);
  std::uint16_t found = 0;
  for (std::uint32_t i = 0; i < count; ++i) {
    if (pitches_[onset.first + i] == pitch) {
      found = static_cast<std::uint16_t>(found | (1u << i));
    }
  }
  return found;
}

int OnsetTable::at_or_after(Tick tick) const {
  auto it = std::lower_bound(onsets_.begin(), onsets_.end(), tick,
                             [](const Onset& onset, Tick t) { return onset.tick < t; });
  return static_cast<int>(it - onsets_.begin());
}

}  // namespace loftbeat::follow
