#include "window/notation/written_bar.h"

#include <algorithm>
#include <array>
#include <map>
#include <string_view>
#include <utility>

#include "music/musicxml_spelling.h"

namespace loftbeat::window {
namespace {

constexpr int kMiddleC = 60;
constexpr int kStepsOfOctave = 7;

int place_of(const music::SpelledPitch& pitch) {
  constexpr std::string_view kNames = "CDEFGAB";
  return pitch.octave * kStepsOfOctave + static_cast<int>(kNames.find(pitch.step));
}

Accidental accidental_of(int alter) {
  constexpr std::array kSigns = {Accidental::double_flat, Accidental::flat, Accidental::natural,
                                 Accidental::sharp, Accidental::double_sharp};
  return kSigns[static_cast<std::size_t>(std::clamp(alter, -2, 2) + 2)];
}

// What the key signature makes of a step: F is sharp with one sharp, B flat with one flat.
int alter_in_key(int place, int fifths) {
  constexpr std::array<int, 7> kSharpsBefore = {1, 3, 5, 0, 2, 4, 6};  // C D E F G A B
  const int before = kSharpsBefore[static_cast<std::size_t>(place % kStepsOfOctave)];
  if (fifths > before) return 1;
  return -fifths > 6 - before ? -1 : 0;
}

int value_of(std::string_view type) {
  constexpr std::array<std::string_view, 9> kTypes = {"breve", "whole", "half", "quarter", "eighth",
                                                      "16th",  "32nd",  "64th", "128th"};
  const auto found = std::find(kTypes.begin(), kTypes.end(), type);
  return found == kTypes.end() ? 2 : static_cast<int>(found - kTypes.begin()) - 1;
}

// The nearest shorter value stands for a length that cannot be written.
void set_value(WrittenChord& chord) {
  if (const auto value = music::note_value(chord.length)) {
    chord.value = value_of(value->type);
    chord.dots = value->dots;
    chord.tuplet = value->actual;
    return;
  }
  for (chord.value = -1; chord.value < 7; ++chord.value)
    if (8 * kTicksPerQuarter >> (chord.value + 1) <= chord.length) return;
}

// The pieces of a note or a rest inside a bar, the longest first.
std::vector<Tick> pieces_of(Tick length) { return music::written_pieces(length, 1); }

using VoiceKey = std::pair<int, int>;  // staff, voice

// A note within the bar.
struct Sounding {
  int note = 0;
  TickSpan span;  // cut at the bar lines
  bool from_before = false;
  bool goes_on = false;
};

std::map<VoiceKey, std::vector<Sounding>> sounding_in(const music::Score& score,
                                                      const StaffPlan& plan, TickSpan bar) {
  std::map<VoiceKey, std::vector<Sounding>> voices;
  for (std::size_t i = 0; i < score.notes.size(); ++i) {
    const music::Note& note = score.notes[i];
    if (note.onset >= bar.end) break;
    const Tick end = note.onset + note.length;
    if (end <= bar.begin) continue;
    voices[{plan.staff_of(note), note.voice}].push_back(
        {static_cast<int>(i),
         {std::max(note.onset, bar.begin), std::min(end, bar.end)},
         note.onset<bar.begin, end> bar.end});
  }
  return voices;
}

class BarWriter {
 public:
  BarWriter(const music::Score& score, TickSpan bar, int fifths)
      : score_(score), bar_(bar), fifths_(fifths) {}

  WrittenVoice voice(int number, const std::vector<Sounding>& notes) {
    WrittenVoice voice;
    voice.voice = number;
    Tick reached = bar_.begin;
    for (std::size_t i = 0; i < notes.size();) {
      std::size_t next = i + 1;
      while (next < notes.size() && notes[next].span == notes[i].span) ++next;
      rest(voice, {reached, notes[i].span.begin});
      chord(voice, {notes.begin() + static_cast<std::ptrdiff_t>(i),
                    notes.begin() + static_cast<std::ptrdiff_t>(next)});
      reached = std::max(reached, notes[i].span.end);
      i = next;
    }
    rest(voice, {reached, bar_.end});
    return voice;
  }

 private:
  void rest(WrittenVoice& voice, TickSpan span) const {
    if (span.length() <= 0) return;
    if (span == bar_) {
      WrittenChord whole;
      whole.at = span.begin;
      whole.length = span.length();
      whole.value = 0;
      whole.whole_bar = true;
      voice.chords.push_back(std::move(whole));
      return;
    }
    Tick at = span.begin;
    for (const Tick length : pieces_of(span.length())) {
      WrittenChord piece;
      piece.at = at;
      piece.length = length;
      set_value(piece);
      at += length;
      voice.chords.push_back(std::move(piece));
    }
  }

  void chord(WrittenVoice& voice, const std::vector<Sounding>& notes) const {
    const TickSpan span = notes.front().span;
    Tick at = span.begin;
    for (const Tick length : pieces_of(span.length())) {
      WrittenChord piece;
      piece.at = at;
      piece.length = length;
      set_value(piece);
      for (const Sounding& sounding : notes) {
        WrittenHead head;
        head.note = sounding.note;
        const int pitch = score_.notes[static_cast<std::size_t>(sounding.note)].pitch;
        head.place = place_of(music::spell(pitch, fifths_));
        head.tie_from = at > span.begin || sounding.from_before;
        head.tie_to = at + length < span.end || sounding.goes_on;
        piece.heads.push_back(head);
      }
      std::sort(piece.heads.begin(), piece.heads.end(),
                [](const WrittenHead& a, const WrittenHead& b) { return a.place < b.place; });
      at += length;
      voice.chords.push_back(std::move(piece));
    }
  }

  const music::Score& score_;
  TickSpan bar_;
  int fifths_;
};

// An accidental holds for its place and octave to the bar's end, over all voices of its staff. What
// a tie leads into the bar needs none, and changes nothing for what follows.
void write_accidentals(const music::Score& score, int fifths, WrittenStaff& staff) {
  std::vector<std::pair<Tick, WrittenHead*>> heads;
  for (WrittenVoice& voice : staff.voices)
    for (WrittenChord& chord : voice.chords)
      for (WrittenHead& head : chord.heads)
        if (!head.tie_from) heads.emplace_back(chord.at, &head);
  std::stable_sort(heads.begin(), heads.end(),
                   [](const auto& a, const auto& b) { return a.first < b.first; });
  std::map<int, int> in_force;  // by place
  for (const auto& [at, head] : heads) {
    const int pitch = score.notes[static_cast<std::size_t>(head->note)].pitch;
    const int alter = music::spell(pitch, fifths).alter;
    const auto known = in_force.find(head->place);
    const int before = known == in_force.end() ? alter_in_key(head->place, fifths) : known->second;
    if (alter != before) head->accidental = accidental_of(alter);
    in_force[head->place] = alter;
  }
}

int middle_pitch(const music::Score& score, int voice) {
  std::vector<int> pitches;
  for (const music::Note& note : score.notes)
    if (note.voice == voice) pitches.push_back(note.pitch);
  if (pitches.empty()) return kMiddleC;
  const auto middle = pitches.begin() + static_cast<std::ptrdiff_t>(pitches.size() / 2);
  std::nth_element(pitches.begin(), middle, pitches.end());
  return *middle;
}

}  // namespace

StaffPlan::StaffPlan(const music::Score& score) {
  if (score.staves <= 1) {
    std::vector<int> split;
    for (int voice = 0; voice < score.voices; ++voice)
      split.push_back(middle_pitch(score, voice) < kMiddleC ? 1 : 0);
    const auto lower = std::count(split.begin(), split.end(), 1);
    clefs_ = {lower > 0 && lower == std::ssize(split) ? Clef::bass : Clef::treble};
    if (lower > 0 && lower < std::ssize(split)) {
      clefs_ = {Clef::treble, Clef::bass};
      split_ = std::move(split);
    }
    return;
  }
  for (int staff = 0; staff < score.staves; ++staff) {
    long sum = 0;
    long count = 0;
    for (const music::Note& note : score.notes) {
      if (note.staff != staff) continue;
      sum += note.pitch;
      ++count;
    }
    clefs_.push_back(count > 0 && sum < kMiddleC * count ? Clef::bass : Clef::treble);
  }
}

int StaffPlan::staff_of(const music::Note& note) const {
  if (split_.empty()) return std::clamp(note.staff, 0, staves() - 1);
  return split_[static_cast<std::size_t>(
      std::clamp(note.voice, 0, static_cast<int>(split_.size()) - 1))];
}

int fifths_at(const music::Score& score, Tick at) {
  int fifths = 0;
  for (const music::KeyMark& key : score.keys) {
    if (key.at > at) break;
    fifths = key.fifths;
  }
  return fifths;
}

WrittenBar write_bar(const music::Score& score, const StaffPlan& plan, std::size_t bar) {
  const music::Bar& source = score.bars[bar];
  WrittenBar written;
  written.start = source.start;
  written.length = source.length;
  written.fifths = fifths_at(score, source.start);
  written.beats = source.beats;
  written.beat_type = source.beat_type;
  const TickSpan span{source.start, source.start + source.length};
  const auto sounding = sounding_in(score, plan, span);
  BarWriter writer(score, span, written.fifths);
  for (int staff = 0; staff < plan.staves(); ++staff) {
    WrittenStaff out;
    out.clef = plan.clef(staff);
    for (const auto& [key, notes] : sounding)
      if (key.first == staff) out.voices.push_back(writer.voice(key.second, notes));
    if (out.voices.empty()) out.voices.push_back(writer.voice(0, {}));
    write_accidentals(score, written.fifths, out);
    written.staves.push_back(std::move(out));
  }
  for (const music::Fermata& fermata : score.fermatas)
    if (span.contains(fermata.at)) written.fermatas.push_back(fermata.at);
  return written;
}

}  // namespace loftbeat::window
