#include "music/abc_voice.h"

#include <algorithm>
#include <array>
#include <utility>

namespace loftbeat::music {
namespace {

constexpr std::int64_t kMaxAbcBarTime = kMaxBarQuarters * kTicksPerQuarter * kAbcTimePerTick;
constexpr std::array kLetterSemitones = {0, 2, 4, 5, 7, 9, 11};

}  // namespace

AbcVoice::AbcVoice(std::string name, AbcReport& report, AbcBudget& budget)
    : bars(1), name_(std::move(name)), report_(report), budget_(budget) {}

bool AbcVoice::bar_is_empty() const { return !held_ && bar_time_ == 0 && time_ == 0; }

void AbcVoice::set_metre(const AbcMetre& metre) {
  settle();
  metre_ = metre;
  const std::size_t from = bar_is_empty() ? bar_index() : bar_index() + 1;
  if (!metre_changes.empty() && metre_changes.back().bar == from) metre_changes.pop_back();
  metre_changes.push_back({from, metre});
}

void AbcVoice::set_key(const AbcKey& key) {
  settle();
  key_ = key;
  accidentals_.clear();
  if (key.stated) bar().keys.push_back({abc_ticks(time_), key.fifths, key.minor});
}

void AbcVoice::set_tempo(double quarters_per_minute) {
  settle();
  bar().tempi.push_back({abc_ticks(time_), quarters_per_minute});
}

void AbcVoice::begin_tuplet(int notes, int in_time_of, int over, AbcPlace at) {
  if (tuplet_.left > 0) report_.put_up_with(at, "a tuplet begins before the last one was full");
  tuplet_ = {notes, in_time_of, over};
}

void AbcVoice::strike(AbcEvent event) {
  settle();
  std::int64_t over = 1;
  std::int64_t under = 1;
  if (tuplet_.left > 0) {
    --tuplet_.left;
    over = tuplet_.in_time_of;
    under = tuplet_.notes;
  }
  if (broken_ != 0) {
    const std::int64_t parts = std::int64_t{1} << std::abs(broken_);
    over *= broken_ > 0 ? 1 : 2 * parts - 1;
    under *= parts;
    broken_ = 0;
  }
  event.time = event.time * over / under;
  for (AbcPitch& pitch : event.pitches) pitch.time = pitch.time * over / under;
  event.marks = std::exchange(marks_, {});
  held_ = std::move(event);
}

void AbcVoice::break_rhythm(int size, AbcPlace at) {
  if (!held_ || broken_ != 0) {
    report_.put_up_with(at, "a broken rhythm has no note before it; it is passed over");
    return;
  }
  const std::int64_t parts = std::int64_t{1} << std::abs(size);
  const auto stretch = [&](std::int64_t time) {
    return size > 0 ? time * (2 * parts - 1) / parts : time / parts;
  };
  held_->time = stretch(held_->time);
  for (AbcPitch& pitch : held_->pitches) pitch.time = stretch(pitch.time);
  broken_ = size;
}

void AbcVoice::tie_last() {
  if (!held_) return;
  for (AbcPitch& pitch : held_->pitches) pitch.tied = true;
}

void AbcVoice::settle() {
  if (!held_) return;
  const AbcEvent event = std::move(*held_);
  held_.reset();
  put_down(event);
}

void AbcVoice::grow_bar(AbcPlace at) {
  bar_time_ = std::max(bar_time_, time_);
  if (bar_time_ > kMaxAbcBarTime) {
    report_.fail(at, "the bar is longer than 4096 quarter notes; expected a bar line.",
                 ErrorKind::too_large);
  }
}

// Pitches of a tie are kept until the next note or rest of the same overlay.
void AbcVoice::put_down(const AbcEvent& event) {
  const TickSpan span{abc_ticks(time_), abc_ticks(time_ + event.time)};
  if (event.pitches.size() > budget_.notes) {
    report_.fail(event.at, "the tune has more than a million notes; expected fewer.",
                 ErrorKind::too_large);
  }
  budget_.notes -= event.pitches.size();
  const std::size_t first = bar().notes.size();
  for (const AbcPitch& pitch : event.pitches) put_note(pitch, event);
  std::vector<TiedNote> ties;
  for (std::size_t i = 0; i < event.pitches.size(); ++i) {
    const AbcPitch& pitch = event.pitches[i];
    if (pitch.tied) ties.push_back({pitch.letter, pitch.octave, bar().notes[first + i].pitch});
  }
  ties_[overlay_] = std::move(ties);
  apply_marks(event.marks, span, first);
  bar().last_onset = std::max(bar().last_onset, span.begin);
  if (!event.pitches.empty() && overlay_ == 0) sung.push_back({bar_index(), first});
  time_ += event.time;
  grow_bar(event.at);
}

void AbcVoice::put_note(const AbcPitch& pitch, const AbcEvent& event) {
  WrittenNote note;
  bool continues = false;
  note.pitch = sounding_pitch(pitch, event.at, continues);
  note.span = {abc_ticks(time_), abc_ticks(time_ + pitch.time)};
  if (note.span.length() <= 0) {
    report_.fail(event.at, "the note is shorter than can be counted; expected 1/10000 or longer.");
  }
  note.voice = overlay_;
  note.tie_start = pitch.tied;
  note.tie_stop = continues;
  bar().notes.push_back(note);
  ++notes_read_;
}

// Semitones by the accidental written, one earlier in the bar, or the key.
int AbcVoice::alteration(const AbcPitch& pitch) {
  const int octave = propagation == AbcPropagation::octave ? pitch.octave : 0;
  // Overlays are read as if each had a bar of its own.
  const std::pair key{pitch.letter + 7 * overlay_, octave};
  if (pitch.accidental) {
    if (propagation != AbcPropagation::none) accidentals_[key] = *pitch.accidental;
    return *pitch.accidental;
  }
  const auto found = accidentals_.find(key);
  return found != accidentals_.end() ? found->second
                                     : key_.alter[static_cast<std::size_t>(pitch.letter)];
}

// A note that a tie leads to keeps the tied pitch, as it does in print over a bar line.
int AbcVoice::sounding_pitch(const AbcPitch& pitch, AbcPlace at, bool& continues) {
  const int key = 12 * (pitch.octave + 1) +
                  kLetterSemitones[static_cast<std::size_t>(pitch.letter)] + alteration(pitch) +
                  shift.total();
  for (const TiedNote& tied : ties_[overlay_]) {
    const bool same_place = tied.letter == pitch.letter && tied.octave == pitch.octave;
    if (tied.pitch != key && (!same_place || pitch.accidental)) continue;
    continues = true;
    return tied.pitch;
  }
  if (key < 0 || key > 127) {
    report_.fail(at, "the note lies outside of what MIDI can name; expected a key from 0 to 127.");
  }
  return key;
}

void AbcVoice::apply_sign(AbcMark mark, RepeatSigns& signs) {
  switch (mark) {
    case AbcMark::segno: signs.segno = "-"; return;
    case AbcMark::coda: signs.coda = "-"; return;
    case AbcMark::to_coda: signs.to_coda = "-"; return;
    case AbcMark::fine: signs.fine = true; return;
    case AbcMark::da_capo: signs.da_capo = true; return;
    case AbcMark::dal_segno: signs.dal_segno = "-"; return;
    default: return;
  }
}

void AbcVoice::apply_marks(const std::vector<AbcMark>& marks, TickSpan span,
                           std::size_t first_note) {
  for (const AbcMark mark : marks) {
    apply_sign(mark, bar().signs);
    if (mark == AbcMark::play_over_begin) bar().play_over_begin = span.begin;
    // Before a note the end sign closes what was struck before it.
    if (mark == AbcMark::play_over_end) bar().play_over_end = span.begin;
    const bool on_rest = mark == AbcMark::fermata && first_note == bar().notes.size();
    auto& rests = bar().fermata_rests;
    if (on_rest && (rests.empty() || rests.back() != span)) rests.push_back(span);
    for (std::size_t i = first_note; i < bar().notes.size(); ++i) {
      bar().notes[i].fermata |= mark == AbcMark::fermata;
      bar().notes[i].breath |= mark == AbcMark::breath;
    }
  }
}

// Marks with no note after them in the bar belong to its end; in an empty bar, to the one before.
void AbcVoice::apply_marks_at_bar_line() {
  if (marks_.empty()) return;
  const bool empty = bar_is_empty();
  if (empty && bars.size() < 2) return;  // stays for the first note
  WrittenBar& at = empty ? bars[bars.size() - 2] : bar();
  const Tick end = empty ? lengths.back() : abc_ticks(bar_time_);
  for (const AbcMark mark : marks_) {
    apply_sign(mark, at.signs);
    if (mark == AbcMark::play_over_begin) at.play_over_begin = end;
    if (mark == AbcMark::play_over_end) at.play_over_end = end;
    if (mark == AbcMark::fermata) at.fermata_at_end = true;
    if (mark == AbcMark::breath && !at.notes.empty()) at.notes.back().breath = true;
  }
  marks_.clear();
}

void AbcVoice::close_bar(AbcPlace at) {
  if (budget_.bars == 0) {
    report_.fail(at, "the tune has more than 250000 bars; expected fewer.", ErrorKind::too_large);
  }
  --budget_.bars;
  const Tick length = abc_ticks(bar_time_);
  if (length <= 0) {
    report_.fail(at, "the bar is shorter than can be counted; expected longer notes.");
  }
  bar().extent = length;
  const Tick metre = metre_.metre ? metre_.metre->length() : 0;
  bar().fills_metre = length == metre;
  lengths.push_back(length);
  bars.emplace_back();
  time_ = 0;
  bar_time_ = 0;
  overlay_ = 0;
  accidentals_.clear();
}

void AbcVoice::bar_line(const AbcBarLine& line, AbcPlace at) {
  settle();
  if (broken_ != 0) {
    report_.put_up_with(at, "a broken rhythm has no note after it in its bar");
    broken_ = 0;
  }
  const bool sign_now = std::any_of(marks_.begin(), marks_.end(), [](AbcMark mark) {
    return mark != AbcMark::segno && mark != AbcMark::play_over_begin;
  });
  if (sign_now) apply_marks_at_bar_line();
  if (!bar_is_empty()) close_bar(at);
  if (bars.size() > 1) {
    WrittenBar& before = bars[bars.size() - 2];
    before.signs.backward = std::max(before.signs.backward, line.backward);
    before.double_bar_at_end |= line.doubled || line.backward > 0;
    before.signs.ending_stops |= line.doubled || line.backward > 0;
  }
  bar().signs.forward |= line.forward;
  if (line.ending.empty()) return;
  bar().signs.ending = line.ending;
  const bool first = std::find(line.ending.begin(), line.ending.end(), 1) != line.ending.end();
  if (first) {
    ties_into_endings_ = ties_[0];
  } else if (ties_[0].empty()) {
    ties_[0] = ties_into_endings_;
  }
}

void AbcVoice::rest_bars(int count, AbcPlace at) {
  if (!metre_.metre) {
    report_.fail(at, "rests of whole bars need a metre; expected M: before them.");
  }
  const std::int64_t time = metre_.metre->length() * kAbcTimePerTick;
  for (int i = 0; i < count; ++i) {
    if (i > 0) bar_line({}, at);
    AbcEvent rest;
    rest.time = time;
    rest.at = at;
    strike(std::move(rest));
  }
}

void AbcVoice::begin_overlay(AbcPlace at) {
  settle();
  if (overlay_ + 1 >= kMaxAbcOverlays) {
    report_.fail(at, "the bar has more than 8 overlaid voices; expected fewer.",
                 ErrorKind::too_large);
  }
  ++overlay_;
  time_ = 0;
}

void AbcVoice::finish(AbcPlace at) {
  settle();
  apply_marks_at_bar_line();
  if (!bar_is_empty()) close_bar(at);
  bars.pop_back();
}

}  // namespace loftbeat::music
