#pragma once

#include <unordered_map>

#include "music/musicxml_attributes.h"
#include "music/musicxml_note.h"
#include "music/musicxml_written.h"

namespace loftbeat::music {

// What all parts of a file may hold together.
struct ReadingBudget {
  std::size_t notes = kMaxNotes;
  std::size_t bars = kMaxWrittenBars;
};

// Where the music stands inside a bar: exact while <divisions> stay, rounded to ticks where they
// change.
class BarCursor {
 public:
  void begin_bar() { base_ = since_ = 0; }
  void set_divisions(std::int64_t thousandths);
  void move(std::int64_t thousandths) { since_ += thousandths; }
  // The tick `ahead` thousandths of a division further on, rounded to the nearest.
  [[nodiscard]] Tick at(std::int64_t ahead = 0) const;

 private:
  Tick base_ = 0;
  std::int64_t since_ = 0;
  std::int64_t divisions_ = 1000;
};

// Reads one <part>. Throws ReadFailure.
class MusicXmlPartReader {
 public:
  MusicXmlPartReader(MusicXmlDocument& document, ReadingBudget& budget)
      : document_(document), budget_(budget), attributes_(document) {}

  [[nodiscard]] WrittenPart read(pugi::xml_node part);

 private:
  void read_bar(pugi::xml_node measure);
  void read_item(pugi::xml_node item);
  void begin_bar(pugi::xml_node measure);
  void end_bar();
  void take_attributes(pugi::xml_node attributes);
  void take_direction(pugi::xml_node direction);
  void take_note(pugi::xml_node note);
  void take_move(pugi::xml_node item, int sign);
  TickSpan place(pugi::xml_node note, NoteFacts& facts);
  void reach(pugi::xml_node item, const NoteFacts& facts, TickSpan span);
  void add_sounding(pugi::xml_node note, const NoteFacts& facts, TickSpan span);
  void add_pitch(pugi::xml_node note, WrittenNote written, int pitch);
  int voice_index(const std::string& name);

  MusicXmlDocument& document_;
  ReadingBudget& budget_;
  MusicXmlAttributes attributes_;
  WrittenPart part_;
  WrittenBar bar_;
  BarCursor cursor_;
  std::unordered_map<std::string, int> voice_indices_;
  std::unordered_map<int, Tick> voice_ends_;           // of this bar
  TickSpan last_note_;                                 // of this bar; what <chord/> refers to
  std::vector<std::pair<Tick, RepeatSigns>> targets_;  // segno and coda, with their place
  RepeatSigns carried_;                                // for the bar after this one
};

}  // namespace loftbeat::music
