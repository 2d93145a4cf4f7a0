#pragma once

// The invariants that every reader of scores keeps, and the way there and back through MusicXML.

#include <algorithm>
#include <cstdlib>
#include <tuple>
#include <vector>

#include "music/read.h"
#include "music/write.h"

namespace loftbeat::music::laws {

inline void require(bool kept) {
  if (!kept) std::abort();
}

inline void require_notes(const Score& score) {
  const auto before = [](const Note& a, const Note& b) {
    return std::tie(a.onset, a.pitch, a.voice) < std::tie(b.onset, b.pitch, b.voice);
  };
  require(std::is_sorted(score.notes.begin(), score.notes.end(), before));
  for (const Note& note : score.notes) {
    require(note.onset >= 0 && note.length > 0 && note.onset + note.length <= score.length);
    require(note.pitch >= 0 && note.pitch <= 127);
    require(note.voice >= 0 && note.voice < score.voices);
    require(note.staff >= 0 && note.staff < score.staves);
  }
}

inline void require_bars(const Score& score) {
  Tick end = 0;
  for (const Bar& bar : score.bars) {
    require(bar.start == end && bar.length > 0 && bar.beats > 0 && bar.beat_type > 0);
    end += bar.length;
  }
  require(end == score.length);
}

inline void require_phrases(const Score& score) {
  Tick end = 0;
  for (const Phrase& phrase : score.phrases) {
    require(phrase.span.begin == end && phrase.span.length() > 0);
    end = phrase.span.end;
  }
  require(score.phrases.empty() || end == score.length);
}

inline void require_play_over(const Score& score) {
  if (!score.play_over) return;
  require(score.play_over->begin >= 0 && score.play_over->length() > 0);
  require(score.play_over->end <= score.length);
}

// Whether a voice strikes a key again that it still holds. Divided at a bar line, the two cannot be
// told apart in MusicXML, and which of them ends first may come back exchanged.
inline bool holds_a_key_twice(const Score& score) {
  std::vector<Note> notes = score.notes;
  const auto by_key = [](const Note& a, const Note& b) {
    return std::tie(a.voice, a.pitch, a.onset) < std::tie(b.voice, b.pitch, b.onset);
  };
  std::sort(notes.begin(), notes.end(), by_key);
  Tick end = 0;
  for (std::size_t i = 0; i < notes.size(); ++i) {
    const bool same =
        i > 0 && notes[i - 1].voice == notes[i].voice && notes[i - 1].pitch == notes[i].pitch;
    if (same && notes[i].onset < end) return true;
    end = std::max(same ? end : 0, notes[i].onset + notes[i].length);
  }
  return false;
}

// Aborts if what was read breaks a law; an error has to say something.
inline void try_score(const Result<ReadScore>& read) {
  if (!read) {
    require(!read.error().message.empty());
    return;
  }
  const Score& score = read->score;
  require_notes(score);
  require_bars(score);
  require_phrases(score);
  require_play_over(score);
  if (score.notes.size() > 2000 || score.bars.size() > 2000) return;  // keeps runs quick
  const auto back = parse_musicxml(format_musicxml(score), "written");
  require(back.ok());
  require(back->score.length == score.length);
  require(back->score.notes.size() == score.notes.size());
  require(holds_a_key_twice(score) || back->score.notes == score.notes);
}

}  // namespace loftbeat::music::laws
