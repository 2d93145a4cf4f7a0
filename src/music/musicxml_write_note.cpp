#include "music/musicxml_write_note.h"

#include "music/musicxml_spelling.h"
#include "music/musicxml_read.h"
#include "music/musicxml_text.h"

namespace loftbeat::music {
namespace {

struct Ties {
  bool back = false;
  bool on = false;
};

void write_pitch(pugi::xml_node node, const WrittenPiece& piece) {
  const SpelledPitch spelled = spell(piece.note->pitch, piece.fifths);
  pugi::xml_node pitch = node.append_child("pitch");
  leaf(pitch, "step", std::string(1, spelled.step));
  if (spelled.alter != 0) leaf(pitch, "alter", spelled.alter);
  leaf(pitch, "octave", spelled.octave);
}

void write_ties(pugi::xml_node node, const char* name, Ties ties) {
  if (ties.back) node.append_child(name).append_attribute("type").set_value("stop");
  if (ties.on) node.append_child(name).append_attribute("type").set_value("start");
}

void write_value(pugi::xml_node node, const NoteValue& value) {
  leaf(node, "type", value.type);
  for (int dot = 0; dot < value.dots; ++dot) node.append_child("dot");
  if (value.actual == 1) return;
  pugi::xml_node tuplet = node.append_child("time-modification");
  leaf(tuplet, "actual-notes", value.actual);
  leaf(tuplet, "normal-notes", value.normal);
}

void write_notations(pugi::xml_node node, const NoteSigns& signs, Ties ties) {
  if (!signs.fermata && !signs.breath && !ties.back && !ties.on) return;
  pugi::xml_node notations = node.append_child("notations");
  write_ties(notations, "tied", ties);
  if (signs.breath) notations.append_child("articulations").append_child("breath-mark");
  if (signs.fermata) notations.append_child("fermata");
}

pugi::xml_node append_lyric(pugi::xml_node node, int verse) {
  pugi::xml_node lyric = node.append_child("lyric");
  lyric.append_attribute("number").set_value(verse);
  return lyric;
}

const char* syllabic(const PlacedSyllable& syllable) {
  if (syllable.carries_on) return syllable.sung.goes_on ? "middle" : "end";
  return syllable.sung.goes_on ? "begin" : "single";
}

// Words stand on the first piece of a note, the end of a line on its last.
void write_words(pugi::xml_node node, const WrittenPiece& piece, Ties ties) {
  bool line_end = piece.signs.line_end && !ties.on;
  for (const PlacedSyllable& syllable : piece.signs.words) {
    if (ties.back) break;
    pugi::xml_node lyric = append_lyric(node, syllable.sung.verse);
    leaf(lyric, "syllabic", syllabic(syllable));
    leaf(lyric, "text", printable_text(syllable.sung.text));
    if (!line_end || syllable.sung.verse != piece.line_verse) continue;
    lyric.append_child("end-line");
    line_end = false;
  }
  if (!line_end) return;
  pugi::xml_node lyric = append_lyric(node, piece.line_verse);
  lyric.append_child("extend");
  lyric.append_child("end-line");
}

}  // namespace

pugi::xml_node leaf(pugi::xml_node parent, const char* name, const std::string& text) {
  pugi::xml_node node = parent.append_child(name);
  node.text().set(text.c_str());
  return node;
}

pugi::xml_node leaf(pugi::xml_node parent, const char* name, std::int64_t number) {
  return leaf(parent, name, std::to_string(number));
}

void write_piece(pugi::xml_node measure, const WrittenPiece& piece, Tick grain) {
  pugi::xml_node node = measure.append_child("note");
  if (piece.note && piece.note->voice != piece.voice) {
    const std::string id = std::string(kOwnVoiceId) + std::to_string(piece.note->voice + 1) + "." +
                           std::to_string(piece.number);
    node.append_attribute("id").set_value(id.c_str());
  }
  Ties ties;
  if (piece.chord) node.append_child("chord");
  if (piece.note) {
    write_pitch(node, piece);
    ties.back = piece.note->onset < piece.span.begin;
    ties.on = piece.note->onset + piece.note->length > piece.span.end;
  } else {
    node.append_child("rest");
  }
  leaf(node, "duration", piece.span.length() / grain);
  write_ties(node, "tie", ties);
  leaf(node, "voice", piece.voice + 1);
  if (const auto value = note_value(piece.span.length())) write_value(node, *value);
  leaf(node, "staff", piece.staff + 1);
  const NoteSigns signs = ties.on ? NoteSigns{} : piece.signs;
  write_notations(node, signs, ties);
  write_words(node, piece, ties);
}

}  // namespace loftbeat::music
