#include "take/hygiene.h"

#include <bitset>
#include <string>
#include <utility>

#include "take/accompaniment.h"
#include "take/key_book.h"
#include "take/loops.h"
#include "take/pedal_division.h"
#include "take/stamps.h"
#include "take/strokes.h"

namespace loftbeat::take {
namespace {

void tell(std::vector<Notice>& notices, std::size_t count, std::string_view what) {
  if (count > 0) notices.push_back({std::to_string(count) + " " + std::string(what)});
}

// "3" or, where the take has several ports, "3 of port 2"; players count both from 1.
std::string channel_name(const Strokes& strokes, std::size_t slot) {
  const Slot& named = strokes.slots[slot];
  std::string name = std::to_string(named.channel + 1);
  if (named.port > 0) name += " of port " + std::to_string(named.port + 1);
  return name;
}

void tell_slots(std::vector<Notice>& notices, const Strokes& strokes,
                const std::vector<bool>& concerned, std::string_view what) {
  std::string names;
  std::size_t count = 0;
  for (std::size_t slot = 0; slot < concerned.size(); ++slot) {
    if (!concerned[slot]) continue;
    if (count++ > 0) names += ", ";
    names += channel_name(strokes, slot);
    if (count == 16) names += " and so on";
    if (count == 16) break;
  }
  if (count == 0) return;
  notices.push_back({(count == 1 ? "Channel " : "Channels ") + names + ": " + std::string(what)});
}

std::vector<bool> either(const std::vector<bool>& a, const std::vector<bool>& b) {
  std::vector<bool> both = a;
  for (std::size_t i = 0; i < both.size(); ++i) both[i] = both[i] || b[i];
  return both;
}

KeyBook written_down(const Take& take, Strokes& strokes, const Loops& loops,
                     const std::vector<bool>& left_out) {
  KeyBook book;
  for (std::size_t slot = 0; slot < left_out.size(); ++slot) {
    if (loops.own_delay[slot].count() > 0) book.expect_loop(slot, loops.own_delay[slot]);
  }
  for (const Event& event : take.events) {
    if (event.kind != EventKind::note_on && event.kind != EventKind::note_off &&
        event.kind != EventKind::control) {
      continue;
    }
    const std::size_t slot = strokes.slots.number(event.port, event.channel);
    if (slot < left_out.size() && left_out[slot]) continue;
    if (event.kind == EventKind::note_on) book.strike(slot, event);
    if (event.kind == EventKind::note_off) book.release(slot, event.data1, event.at);
    if (event.kind == EventKind::control) book.control(slot, event);
  }
  book.finish(take.events.empty() ? Instant() : take.events.back().at);
  return book;
}

// Three velocities or more on one slot: manuals of fixed velocity may differ from each other.
bool velocity_varies(const Strokes& strokes, const std::vector<bool>& left_out) {
  for (std::size_t slot = 0; slot < strokes.by_slot.size(); ++slot) {
    if (left_out[slot]) continue;
    std::bitset<128> seen;
    for (const std::uint32_t i : strokes.by_slot[slot]) seen.set(strokes.all[i].velocity & 0x7Fu);
    if (seen.count() >= 3) return true;
  }
  return false;
}

void tell_keys(std::vector<Notice>& notices, const KeyFindings& found) {
  tell(notices, found.twins,
       "keys came on a second channel at the same time (coupled manuals); each counts once.");
  tell(notices, found.echoes,
       "keys came twice on one channel (a MIDI loop, or a worn contact); the copies were left "
       "out.");
  tell(notices, found.hanging,
       "keys were never released; they are taken to end with the recording.");
}

}  // namespace

CleanTake clean(const Take& take) {
  Strokes strokes = strokes_of(take);
  const Loops loops = find_loops(strokes);
  const std::vector<bool> machine = find_accompaniment(strokes, loops.copies);
  const std::vector<bool> left_out = either(loops.copies, machine);
  KeyBook book = written_down(take, strokes, loops, left_out);
  CleanTake result;
  result.notes = std::move(book.notes());
  result.sustain = std::move(book.sustain());
  result.stamp_uncertainty = stamp_uncertainty(take);
  result.pedal_channels = find_pedal_channels(strokes, left_out);
  result.velocity_varies = velocity_varies(strokes, left_out);
  tell_slots(result.notices, strokes, loops.copies,
             "the late copy of another channel, as a MIDI loop makes it; left out.");
  tell_slots(result.notices, strokes, machine,
             "drums or automatic accompaniment, not the player; left out.");
  tell_keys(result.notices, book.findings());
  if (result.stamp_uncertainty >= std::chrono::milliseconds(3)) {
    result.notices.push_back(
        {"The notes were delivered in bunches (wireless MIDI, or a file with coarse ticks); times "
         "are sure only to " +
         std::to_string(result.stamp_uncertainty.count() / 1'000'000) + " ms."});
  }
  return result;
}

}  // namespace loftbeat::take
