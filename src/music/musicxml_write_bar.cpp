#include "music/musicxml_write_bar.h"

#include <fmt/format.h>

#include <algorithm>
#include <cstdlib>
#include <string>

#include "music/musicxml_spelling.h"
#include "music/musicxml_write_note.h"

namespace loftbeat::music {

void MusicXmlBarWriter::write(std::size_t index, pugi::xml_node measure) {
  bar_ = &score_.bars[index];
  measure_ = measure;
  cursor_ = bar_->start;
  write_head(index);
  write_marks();
  for (std::size_t s = 0; s < plan_.streams.size(); ++s) write_stream(s);
  for (const int staff : plan_.silent_staves) {
    move_to(bar_->start);
    write_rests({bar_->start, bar_end()}, score_.voices + staff, staff);
  }
  move_to(bar_end());
  if (std::binary_search(plan_.double_bars.begin(), plan_.double_bars.end(), bar_end())) {
    write_double_bar("right");
  }
}

void MusicXmlBarWriter::write_head(std::size_t index) {
  measure_.append_attribute("number").set_value(bar_->number.c_str());
  const bool is_short = bar_->length * bar_->beat_type < 4 * kTicksPerQuarter * Tick{bar_->beats};
  if (is_short) measure_.append_attribute("implicit").set_value(bar_->pickup ? "yes" : "no");
  write_attributes(index);
}

void MusicXmlBarWriter::write_attributes(std::size_t index) {
  const Bar* before = index == 0 ? nullptr : &score_.bars[index - 1];
  const bool metre =
      !before || before->beats != bar_->beats || before->beat_type != bar_->beat_type;
  const bool key = next_key_ < score_.keys.size() && score_.keys[next_key_].at == bar_->start;
  if (!metre && !key) return;
  pugi::xml_node attributes = measure_.append_child("attributes");
  if (!before) leaf(attributes, "divisions", divisions(kTicksPerQuarter));
  if (key) write_key(attributes);
  if (metre) {
    pugi::xml_node time = attributes.append_child("time");
    leaf(time, "beats", bar_->beats);
    leaf(time, "beat-type", bar_->beat_type);
  }
  if (!before) write_staves(attributes);
}

void MusicXmlBarWriter::write_key(pugi::xml_node attributes) {
  const KeyMark& mark = score_.keys[next_key_++];
  pugi::xml_node key = attributes.append_child("key");
  leaf(key, "fifths", mark.fifths);
  leaf(key, "mode", mark.minor ? "minor" : "major");
}

void MusicXmlBarWriter::write_staves(pugi::xml_node attributes) {
  const int staves = std::max(score_.staves, 1);
  leaf(attributes, "staves", staves);
  for (int staff = 0; staff < staves; ++staff) {
    const bool bass = lies_low(staff);
    pugi::xml_node clef = attributes.append_child("clef");
    clef.append_attribute("number").set_value(staff + 1);
    leaf(clef, "sign", bass ? "F" : "G");
    leaf(clef, "line", bass ? 4 : 2);
  }
}

// Whether the staff's notes lie below middle C on the whole.
bool MusicXmlBarWriter::lies_low(int staff) const {
  std::int64_t above_middle_c = 0;
  for (const Note& note : score_.notes) {
    if (note.staff == staff) above_middle_c += note.pitch - 60;
  }
  return above_middle_c < 0;
}

// Forward or back inside the bar.
void MusicXmlBarWriter::move_to(Tick at) {
  if (at == cursor_) return;
  pugi::xml_node move = measure_.append_child(at > cursor_ ? "forward" : "backup");
  leaf(move, "duration", divisions(std::abs(at - cursor_)));
  cursor_ = at;
}

// Tempi, changes of key and double bars, each at its place, before the notes.
void MusicXmlBarWriter::write_marks() {
  for (; next_tempo_ < score_.tempi.size() && in_bar(score_.tempi[next_tempo_].at); ++next_tempo_) {
    write_tempo(score_.tempi[next_tempo_]);
  }
  while (next_key_ < score_.keys.size() && in_bar(score_.keys[next_key_].at)) {
    move_to(score_.keys[next_key_].at);
    write_key(measure_.append_child("attributes"));
  }
  auto at = std::upper_bound(plan_.double_bars.begin(), plan_.double_bars.end(), bar_->start);
  for (; at != plan_.double_bars.end() && in_bar(*at); ++at) {
    move_to(*at);
    write_double_bar("middle");
  }
}

void MusicXmlBarWriter::write_tempo(const TempoMark& mark) {
  move_to(mark.at);
  const std::string tempo = fmt::format("{}", mark.quarters_per_minute);
  pugi::xml_node direction = measure_.append_child("direction");
  direction.append_attribute("placement").set_value("above");
  pugi::xml_node metronome = direction.append_child("direction-type").append_child("metronome");
  leaf(metronome, "beat-unit", "quarter");
  leaf(metronome, "per-minute", tempo);
  direction.append_child("sound").append_attribute("tempo").set_value(tempo.c_str());
}

void MusicXmlBarWriter::write_double_bar(const char* location) {
  pugi::xml_node barline = measure_.append_child("barline");
  barline.append_attribute("location").set_value(location);
  leaf(barline, "bar-style", "light-light");
}

void MusicXmlBarWriter::write_stream(std::size_t index) {
  const VoiceStream& stream = plan_.streams[index];
  std::size_t& next = next_[index];
  const auto begins_here = [&] {
    return next < stream.notes.size() && score_.notes[stream.notes[next]].onset < bar_end();
  };
  if (!begins_here() && !stream.leads) return;
  move_to(bar_->start);
  while (begins_here()) {
    const Note& note = score_.notes[stream.notes[next]];
    const Tick end = note.onset + note.length;
    const TickSpan span = {std::max(note.onset, bar_->start), std::min(end, bar_end())};
    fill_gap(stream, span.begin);
    const std::size_t after = chord_end(stream, next);
    write_chord(stream, next, after, span);
    if (end > bar_end()) return;  // goes on in the next bar
    next = after;
  }
  fill_gap(stream, bar_end());
}

std::size_t MusicXmlBarWriter::chord_end(const VoiceStream& stream, std::size_t first) const {
  std::size_t end = first + 1;
  const Tick onset = score_.notes[stream.notes[first]].onset;
  while (end < stream.notes.size() && score_.notes[stream.notes[end]].onset == onset) ++end;
  return end;
}

void MusicXmlBarWriter::fill_gap(const VoiceStream& stream, Tick until) {
  if (until <= cursor_) return;
  if (stream.leads) {
    write_rests({cursor_, until}, stream.voice, stream.staff);
  } else {
    move_to(until);
  }
}

// A gap is divided where one of its rests carries a fermata.
void MusicXmlBarWriter::write_rests(TickSpan gap, int voice, int staff) {
  const std::vector<Tick>& fermatas = plan_.fermata_rests;
  for (Tick begin = gap.begin; begin < gap.end;) {
    const auto next = std::upper_bound(fermatas.begin(), fermatas.end(), begin);
    const Tick end = next == fermatas.end() ? gap.end : std::min(gap.end, *next);
    write_rest({begin, end}, voice, staff);
    begin = end;
  }
}

void MusicXmlBarWriter::write_rest(TickSpan rest, int voice, int staff) {
  const std::vector<Tick>& fermatas = plan_.fermata_rests;
  WrittenPiece piece;
  piece.voice = voice;
  piece.staff = staff;
  piece.signs.fermata = std::binary_search(fermatas.begin(), fermatas.end(), rest.begin);
  for (const Tick length : written_pieces(rest.length(), plan_.grain)) {
    piece.span = {cursor_, cursor_ + length};
    write_piece(measure_, piece, plan_.grain);
    piece.signs.fermata = false;
    cursor_ += length;
  }
}

int MusicXmlBarWriter::fifths_at(Tick at) const {
  const auto after = std::upper_bound(score_.keys.begin(), score_.keys.end(), at,
                                      [](Tick t, const KeyMark& mark) { return t < mark.at; });
  return after == score_.keys.begin() ? 0 : std::prev(after)->fifths;
}

void MusicXmlBarWriter::write_chord(const VoiceStream& stream, std::size_t first, std::size_t after,
                                    TickSpan span) {
  for (const Tick length : written_pieces(span.length(), plan_.grain)) {
    for (std::size_t i = first; i < after; ++i) {
      const std::size_t index = stream.notes[i];
      const Note& note = score_.notes[index];
      write_piece(measure_,
                  {{cursor_, cursor_ + length},
                   &note,
                   plan_.signs[index],
                   i > first,
                   stream.voice,
                   note.staff,
                   fifths_at(note.onset),
                   plan_.line_verse,
                   ++pieces_},
                  plan_.grain);
    }
    cursor_ += length;
  }
}

}  // namespace loftbeat::music
