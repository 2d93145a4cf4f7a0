#include "practice/tune_outline.h"

#include <algorithm>

namespace loftbeat::practice {
namespace {

// Top notes by onset; `held` is the highest note that still sounds, and until when.
std::vector<OutlineNote> top_notes_of(const music::Score& score) {
  std::vector<OutlineNote> notes;
  std::vector<music::Note> sounding;
  for (std::size_t i = 0; i < score.notes.size() && notes.size() < kMostOutlineNotes;) {
    const Tick now = score.notes[i].onset;
    std::erase_if(sounding, [&](const music::Note& n) { return n.onset + n.length <= now; });
    int held = -1;
    for (const music::Note& note : sounding) held = std::max(held, note.pitch);
    int top = -1;
    for (; i < score.notes.size() && score.notes[i].onset == now; ++i) {
      top = std::max(top, score.notes[i].pitch);
      if (sounding.size() < 64) sounding.push_back(score.notes[i]);
    }
    if (top > held) notes.push_back({now, top});
  }
  return notes;
}

}  // namespace

TuneOutline outline_of(const music::Score& score) {
  TuneOutline outline;
  outline.notes = top_notes_of(score);
  outline.lines = {0};
  for (const music::Phrase& phrase : score.phrases) {
    const auto first =
        std::lower_bound(outline.notes.begin(), outline.notes.end(), phrase.span.begin,
                         [](const OutlineNote& note, Tick at) { return note.onset < at; });
    const auto index = static_cast<std::size_t>(first - outline.notes.begin());
    if (index > outline.lines.back() && index < outline.notes.size() &&
        outline.lines.size() < kMostOutlineLines)
      outline.lines.push_back(index);
  }
  return outline;
}

}  // namespace loftbeat::practice
