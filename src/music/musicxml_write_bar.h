#pragma once

#include <pugixml.hpp>

#include "music/musicxml_streams.h"

namespace loftbeat::music {

// Writes the bars of a score one after the other. Inside the MusicXML writer only.
class MusicXmlBarWriter {
 public:
  // Both must outlive the writer.
  MusicXmlBarWriter(const Score& score, const WritingPlan& plan)
      : score_(score), plan_(plan), next_(plan.streams.size(), 0) {}

  // Bars must be written in order, each once.
  void write(std::size_t index, pugi::xml_node measure);

 private:
  [[nodiscard]] Tick bar_end() const { return bar_->start + bar_->length; }
  [[nodiscard]] bool in_bar(Tick at) const { return at >= bar_->start && at < bar_end(); }
  [[nodiscard]] std::int64_t divisions(Tick length) const { return length / plan_.grain; }
  [[nodiscard]] int fifths_at(Tick at) const;
  [[nodiscard]] bool lies_low(int staff) const;
  [[nodiscard]] std::size_t chord_end(const VoiceStream& stream, std::size_t first) const;
  void write_head(std::size_t index);
  void write_attributes(std::size_t index);
  void write_key(pugi::xml_node attributes);
  void write_staves(pugi::xml_node attributes);
  void move_to(Tick at);
  void write_marks();
  void write_tempo(const TempoMark& mark);
  void write_double_bar(const char* location);
  void write_stream(std::size_t index);
  void fill_gap(const VoiceStream& stream, Tick until);
  void write_rests(TickSpan gap, int voice, int staff);
  void write_rest(TickSpan rest, int voice, int staff);
  void write_chord(const VoiceStream& stream, std::size_t first, std::size_t after, TickSpan span);

  const Score& score_;
  const WritingPlan& plan_;
  std::vector<std::size_t> next_;  // by stream: its first note not yet written to the end
  std::size_t next_tempo_ = 0;
  std::size_t next_key_ = 0;
  const Bar* bar_ = nullptr;  // the bar under way
  pugi::xml_node measure_;
  Tick cursor_ = 0;  // of the score
  int pieces_ = 0;   // written so far
};

}  // namespace loftbeat::music
