#include "take/hygiene.h"

#include <string>
#include <utility>

#include "take/key_book.h"
#include "take/strokes.h"

namespace loftbeat::take {
namespace {

void tell(std::vector<Notice>& notices, std::size_t count, std::string_view what) {
  if (count > 0) notices.push_back({std::to_string(count) + " " + std::string(what)});
}

KeyBook written_down(const Take& take, Strokes& strokes) {
  KeyBook book;
  for (const Event& event : take.events) {
    if (event.kind != EventKind::note_on && event.kind != EventKind::note_off &&
        event.kind != EventKind::control) {
      continue;
    }
    const std::size_t slot = strokes.slots.number(event.port, event.channel);
    if (event.kind == EventKind::note_on) book.strike(slot, event);
    if (event.kind == EventKind::note_off) book.release(slot, event.data1, event.at);
    if (event.kind == EventKind::control) book.control(slot, event);
  }
  book.finish(take.events.empty() ? Instant() : take.events.back().at);
  return book;
}

}  // namespace

CleanTake clean(const Take& take) {
  Strokes strokes = strokes_of(take);
  KeyBook book = written_down(take, strokes);
  CleanTake result;
  result.notes = std::move(book.notes());
  result.sustain = std::move(book.sustain());
  const KeyFindings& found = book.findings();
  tell(result.notices, found.twins,
       "keys came on a second channel at the same time (coupled manuals); each counts once.");
  tell(result.notices, found.echoes,
       "keys came twice on one channel within 10 ms (a MIDI loop, or a worn contact); the copies "
       "were left out.");
  tell(result.notices, found.hanging,
       "keys were never released; they are taken to end with the recording.");
  return result;
}

}  // namespace loftbeat::take
