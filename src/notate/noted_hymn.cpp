#include "notate/noted_hymn.h"

#include <algorithm>
#include <tuple>

#include "notate/lines.h"
#include "notate/parts.h"

namespace loftbeat::notate {
namespace {

constexpr double kPlaceMargin = 2.5;      // chords that are surer than this are not asked about
constexpr double kBounceSeconds = 0.045;  // a key struck again sooner has bounced

Error no_hymn(std::string message, std::string hint) {
  return {ErrorKind::no_fit, std::move(message), "", 0, 0, std::move(hint)};
}

// Sorted, bounces joined.
std::vector<HeardKey> tidy(std::vector<HeardKey> keys) {
  std::stable_sort(keys.begin(), keys.end(), [](const HeardKey& a, const HeardKey& b) {
    return std::tie(a.on, a.pitch) < std::tie(b.on, b.pitch);
  });
  std::vector<HeardKey> kept;
  for (const HeardKey& key : keys) {
    bool bounced = false;
    for (std::size_t i = kept.size(); i-- > 0 && key.on - kept[i].on < kBounceSeconds;) {
      if (kept[i].pitch != key.pitch) continue;
      kept[i].off = std::max(kept[i].off, key.off);
      bounced = true;
      break;
    }
    if (!bounced) kept.push_back(key);
  }
  return kept;
}

std::vector<StruckKey> struck_keys(const std::vector<HeardKey>& heard, const Placing& placing) {
  std::vector<StruckKey> keys;
  for (const PlacedChord& chord : placing.chords)
    for (const std::size_t index : chord.keys) {
      const HeardKey& key = heard[index];
      StruckKey struck;
      struck.pitch = key.pitch;
      struck.pedal = key.pedal;
      struck.at = chord.at;
      // From the key's own onset, so that a late key is not a short one.
      const Tick held = placing.line.tick_at(key.off) - placing.line.tick_at(key.on);
      struck.released = chord.at + std::max(held, Metrical::kGrain);
      keys.push_back(struck);
    }
  return keys;
}

void sort_keys(std::vector<StruckKey>& keys) {
  std::stable_sort(keys.begin(), keys.end(), [](const StruckKey& a, const StruckKey& b) {
    return std::tie(a.at, a.pitch) < std::tie(b.at, b.pitch);
  });
}

// Whether a key is held over `at` from before, as the score has it.
StruckKey* held_over(NotedHymn& hymn, const music::Score& score, int pitch, Tick at) {
  const bool tied = std::any_of(score.notes.begin(), score.notes.end(), [&](const music::Note& n) {
    return n.pitch == pitch && n.onset < at && n.onset + n.length > at;
  });
  if (!tied) return nullptr;
  StruckKey* found = nullptr;
  for (StruckKey& key : hymn.keys)
    if (key.pitch == pitch && key.at < at) found = &key;
  return found;
}

}  // namespace

Heard heard_of(const take::CleanTake& take) {
  Heard heard;
  for (const take::TakenNote& note : take.notes) {
    const bool pedal = ((take.pedal_channels >> note.channel) & 1U) != 0;
    const double on = seconds(note.on);
    heard.keys.push_back({on, std::max(seconds(note.off), on + 0.001), note.pitch, pedal});
  }
  return heard;
}

Result<NotedHymn> note_down(const Heard& heard, const Setting& setting) {
  if (Status status = check(setting); !status) return status.error();
  const std::vector<HeardKey> keys = tidy(heard.keys);
  if (keys.empty())
    return no_hymn("nothing was played.", "Play the hymn once through, from its first note.");
  PlaceOrder order;
  order.setting = setting;
  order.first_due_s = heard.first_due_s;
  const Placing placing = place_chords(keys, order);
  NotedHymn hymn;
  hymn.setting = setting;
  hymn.keys = struck_keys(keys, placing);
  sort_keys(hymn.keys);
  if (bar_number(setting, hymn.keys.back().at) > kMostBars)
    return no_hymn("more than " + std::to_string(kMostBars) + " bars were played.",
                   "Play the hymn once only.");
  hymn.places = place_doubts(placing, setting, kPlaceMargin);
  if (!heard.line_marks_s.empty()) {
    hymn.lines = lines_from_marks(heard.line_marks_s, chords_of(hymn.keys), placing.line, setting);
    hymn.lines_known = true;
  }
  return hymn;
}

Result<NotedHymn> play_again(NotedHymn hymn, int bar, const Heard& heard) {
  const TickSpan span = bar_span(hymn.setting, bar);
  if (bar < 0 || bar > bars_of(hymn) || span.length() <= 0)
    return no_hymn("there is no bar " + std::to_string(bar) + ".",
                   "The hymn has bars 1 to " + std::to_string(bars_of(hymn)) + ".");
  PlaceOrder order;
  order.setting = hymn.setting;
  order.first_due_s = heard.first_due_s;
  order.first = span.begin;
  const std::vector<HeardKey> keys = tidy(heard.keys);
  const Placing placing = place_chords(keys, order);
  std::vector<StruckKey> fresh = struck_keys(keys, placing);
  std::erase_if(fresh, [&](const StruckKey& key) { return !span.contains(key.at); });
  if (fresh.empty())
    return no_hymn("nothing was played in bar " + std::to_string(bar) + ".",
                   "Play it again from its first beat, after the count-in.");
  const music::Score score = write(hymn).score;
  std::erase_if(hymn.keys, [&](const StruckKey& key) { return span.contains(key.at); });
  std::erase_if(fresh, [&](const StruckKey& key) {
    if (key.at != span.begin) return false;
    StruckKey* held = held_over(hymn, score, key.pitch, span.begin);
    if (held != nullptr) held->released = std::max(held->released, key.released);
    return held != nullptr;
  });
  hymn.keys.insert(hymn.keys.end(), fresh.begin(), fresh.end());
  sort_keys(hymn.keys);
  std::erase_if(hymn.places, [&](const PlaceDoubt& d) { return span.contains(d.at); });
  for (const PlaceDoubt& doubt : place_doubts(placing, hymn.setting, kPlaceMargin))
    if (span.contains(doubt.at) && span.contains(doubt.other)) hymn.places.push_back(doubt);
  std::erase_if(hymn.answered, [&](const NotedHymn::Answered& a) {
    return span.contains(a.at) && a.kind != DoubtKind::key && a.kind != DoubtKind::lines;
  });
  hymn.played_again.push_back(bar);
  return hymn;
}

int bars_of(const NotedHymn& hymn) {
  return hymn.keys.empty() ? 0 : bar_number(hymn.setting, hymn.keys.back().at);
}

void answer(NotedHymn& hymn, const Doubt& doubt, std::size_t choice) {
  hymn.answered.push_back({doubt.kind, doubt.at});
  if (doubt.kind == DoubtKind::key) hymn.key = choice == 1 ? doubt.key : hymn.key;
  if (doubt.kind == DoubtKind::lines)
    set_lines(hymn, choice == 1 ? std::vector<Tick>() : doubt.lines);
  if (choice != 1) return;
  if (doubt.kind == DoubtKind::place) {
    for (StruckKey& key : hymn.keys) {
      if (key.at != doubt.at) continue;
      key.released += doubt.other - key.at;
      key.at = doubt.other;
    }
    for (Tick& line : hymn.lines)
      if (line == doubt.at) line = doubt.other;
    hymn.answered.push_back({doubt.kind, doubt.other});
    sort_keys(hymn.keys);
    return;
  }
  for (std::size_t i = 0; i < doubt.keys.size(); ++i) {
    if (doubt.keys[i] >= hymn.keys.size()) continue;
    StruckKey& key = hymn.keys[doubt.keys[i]];
    if (doubt.kind == DoubtKind::rest) key.length = doubt.other;
    if (doubt.kind == DoubtKind::part) key.voice = doubt.voices[i];
  }
}

void set_lines(NotedHymn& hymn, std::vector<Tick> lines) {
  hymn.lines.clear();
  for (const Tick line : lines) {
    Tick best = 0;
    for (const StruckKey& key : hymn.keys)
      if (std::abs(key.at - line) < std::abs(best - line)) best = key.at;
    if (best > 0) hymn.lines.push_back(best);
  }
  std::sort(hymn.lines.begin(), hymn.lines.end());
  hymn.lines.erase(std::unique(hymn.lines.begin(), hymn.lines.end()), hymn.lines.end());
  hymn.lines_known = true;
}

}  // namespace loftbeat::notate
