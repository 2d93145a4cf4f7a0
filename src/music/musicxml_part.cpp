#include "music/musicxml_part.h"

#include <algorithm>
#include <string_view>
#include <utility>

#include "music/musicxml_direction.h"

namespace loftbeat::music {
namespace {

constexpr Tick kMaxBarTicks = kMaxBarQuarters * kTicksPerQuarter;

// a / b rounded to the nearest whole number, halves up. Requires b > 0.
std::int64_t divide_rounded(std::int64_t a, std::int64_t b) {
  const std::int64_t doubled = 2 * a + b;
  const std::int64_t quotient = doubled / (2 * b);
  return doubled % (2 * b) < 0 ? quotient - 1 : quotient;
}

}  // namespace

void BarCursor::set_divisions(std::int64_t thousandths) {
  if (thousandths == divisions_) return;
  base_ = at();
  since_ = 0;
  divisions_ = thousandths;
}

Tick BarCursor::at(std::int64_t ahead) const {
  return base_ + divide_rounded((since_ + ahead) * kTicksPerQuarter, divisions_);
}

WrittenPart MusicXmlPartReader::read(pugi::xml_node part) {
  for (pugi::xml_node measure : part.children("measure")) read_bar(measure);
  part_.staves = std::max(part_.staves, attributes_.staves());
  return std::move(part_);
}

void MusicXmlPartReader::read_bar(pugi::xml_node measure) {
  if (budget_.bars == 0 || part_.bars.size() >= kMaxPlayedBars) {
    document_.fail(measure, "the score has more bars than Loftbeat takes; expected fewer.",
                   ErrorKind::too_large);
  }
  --budget_.bars;
  begin_bar(measure);
  for (pugi::xml_node item : measure.children()) read_item(item);
  end_bar();
}

void MusicXmlPartReader::read_item(pugi::xml_node item) {
  const std::string_view name = item.name();
  if (name == "note") {
    take_note(item);
  } else if (name == "backup") {
    take_move(item, -1);
  } else if (name == "forward") {
    take_move(item, 1);
  } else if (name == "attributes") {
    take_attributes(item);
  } else if (name == "direction" || name == "sound") {
    take_direction(item);
  } else if (name == "barline") {
    read_barline(document_, item, cursor_.at(), bar_);
  }
}

void MusicXmlPartReader::begin_bar(pugi::xml_node measure) {
  bar_ = WrittenBar();
  bar_.number = trimmed(measure.attribute("number").value()).substr(0, 20);
  if (pugi::xml_attribute implicit = measure.attribute("implicit")) {
    bar_.implicit = std::string_view(implicit.value()) == "yes";
  }
  bar_.metre = attributes_.metre();
  bar_.signs = std::exchange(carried_, {});
  cursor_.begin_bar();
  voice_ends_.clear();
  last_note_ = {};
}

void MusicXmlPartReader::end_bar() {
  for (const auto& [at, signs] : std::exchange(targets_, {})) {
    merge_signs(at > 0 && at >= bar_.extent ? carried_ : bar_.signs, signs);
  }
  bar_.fills_metre =
      bar_.metre && std::any_of(voice_ends_.begin(), voice_ends_.end(), [&](const auto& voice) {
        return voice.second == bar_.metre->length();
      });
  part_.bars.push_back(std::move(bar_));
}

void MusicXmlPartReader::take_attributes(pugi::xml_node attributes) {
  attributes_.read(attributes);
  if (attributes_.divisions() > 0) cursor_.set_divisions(attributes_.divisions());
  // A metre stated after the first note is that of the next bar.
  if (cursor_.at() == 0 && bar_.extent == 0) bar_.metre = attributes_.metre();
  if (auto key = attributes_.take_key()) {
    key->at = cursor_.at();
    bar_.keys.push_back(*key);
  }
}

void MusicXmlPartReader::take_direction(pugi::xml_node direction) {
  const DirectionFacts facts = read_direction(document_, direction);
  const Tick at = std::clamp<Tick>(cursor_.at(facts.offset), 0, kMaxBarTicks);
  if (facts.quarters_per_minute) bar_.tempi.push_back({at, *facts.quarters_per_minute});
  RepeatSigns signs = facts.signs;
  RepeatSigns target;
  target.segno = std::exchange(signs.segno, {});
  target.coda = std::exchange(signs.coda, {});
  if (!target.segno.empty() || !target.coda.empty()) targets_.emplace_back(at, target);
  merge_signs(bar_.signs, signs);
}

void MusicXmlPartReader::take_move(pugi::xml_node item, int sign) {
  const pugi::xml_node duration = item.child("duration");
  if (!duration || attributes_.divisions() == 0) {
    document_.fail(
        item,
        "<backup> or <forward> lacks its <duration>, or <divisions> before it; expected both.");
  }
  const Tick from = cursor_.at();
  cursor_.move(
      sign * document_.thousandths(duration, kMaxBarQuarters * attributes_.divisions() / 1000 + 1));
  if (cursor_.at() < 0) {
    document_.fail(item, "<backup> goes back before the start of the bar; expected less.");
  }
  if (sign < 0) return;
  if (cursor_.at() > kMaxBarTicks)
    document_.fail(item, "the bar is longer than 4096 quarters; expected a shorter one.");
  if (cursor_.at() == from) return;
  bar_.extent = std::max(bar_.extent, cursor_.at());
  bar_.last_onset = std::max(bar_.last_onset, from);
}

void MusicXmlPartReader::take_note(pugi::xml_node note) {
  std::optional<NoteFacts> facts = read_note(document_, note);
  if (!facts) return;
  if (attributes_.divisions() == 0) {
    document_.fail(note,
                   "a note stands before the first <divisions>; expected them in the first bar.");
  }
  const TickSpan span = place(note, *facts);
  reach(note, *facts, span);
  part_.staves = std::max(part_.staves, facts->staff + 1);
  if (facts->kind == NoteFacts::Kind::sounding) {
    add_sounding(note, *facts, span);
  } else if (facts->fermata) {
    bar_.fermata_rests.push_back(span);
  }
}

// Where the note lies; moves on unless it belongs to the chord of the note before.
TickSpan MusicXmlPartReader::place(pugi::xml_node note, NoteFacts& facts) {
  if (facts.thousandths == 0) {  // a rest of a whole bar that leaves its length to the metre
    const Tick length = bar_.metre ? bar_.metre->length() : 4 * kTicksPerQuarter;
    facts.thousandths = length * attributes_.divisions() / kTicksPerQuarter;
  }
  if (facts.thousandths > kMaxBarQuarters * attributes_.divisions()) {
    document_.fail(note, "<duration> is longer than 4096 quarters; expected a shorter note.");
  }
  if (facts.chord && last_note_.length() > 0) {
    const Tick length = cursor_.at(facts.thousandths) - cursor_.at();
    return {last_note_.begin, last_note_.begin + std::max<Tick>(length, 1)};
  }
  const Tick begin = cursor_.at();
  cursor_.move(facts.thousandths);
  last_note_ = {begin, std::max(cursor_.at(), begin + 1)};
  return last_note_;
}

// Keeps account of how far the bar reaches.
void MusicXmlPartReader::reach(pugi::xml_node item, const NoteFacts& facts, TickSpan span) {
  if (span.end > kMaxBarTicks)
    document_.fail(item, "the bar is longer than 4096 quarters; expected a shorter one.");
  if (facts.kind == NoteFacts::Kind::bar_rest) {
    bar_.rest_extent = std::max(bar_.rest_extent, span.end);
    return;
  }
  bar_.extent = std::max(bar_.extent, span.end);
  bar_.last_onset = std::max(bar_.last_onset, span.begin);
  Tick& voice_end = voice_ends_[voice_index(facts.voice)];
  voice_end = std::max(voice_end, span.end);
}

void MusicXmlPartReader::add_sounding(pugi::xml_node note, const NoteFacts& facts, TickSpan span) {
  WrittenNote written;
  written.span = span;
  written.staff = facts.staff;
  written.voice = voice_index(facts.voice);
  written.tie_start = facts.tie_start;
  written.tie_stop = facts.tie_stop;
  written.fermata = facts.fermata;
  written.breath = facts.breath;
  written.times = facts.times;
  for (WrittenLyric lyric : facts.lyrics) {
    lyric.note = bar_.notes.size();
    bar_.lyrics.push_back(lyric);
  }
  const Transposition by = attributes_.transposition(facts.staff);
  const int pitch = facts.written_pitch + by.semitones;
  add_pitch(note, written, pitch);
  if (by.doubled_at != 0) add_pitch(note, written, pitch + by.doubled_at);
}

void MusicXmlPartReader::add_pitch(pugi::xml_node note, WrittenNote written, int pitch) {
  if (pitch < 0 || pitch > 127) {
    document_.fail(
        note, "the note sounds outside the range of MIDI; expected keys 0 to 127 (C-1 to G9).");
  }
  if (budget_.notes == 0) {
    document_.fail(note, "the score has more than a million notes; expected fewer.",
                   ErrorKind::too_large);
  }
  --budget_.notes;
  written.pitch = pitch;
  bar_.notes.push_back(written);
}

int MusicXmlPartReader::voice_index(const std::string& name) {
  const auto [found, added] = voice_indices_.emplace(name, static_cast<int>(part_.voices.size()));
  if (added) part_.voices.push_back(name);
  return found->second;
}

}  // namespace loftbeat::music
