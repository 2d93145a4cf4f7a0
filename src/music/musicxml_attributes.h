#pragma once

#include <map>

#include "music/musicxml_document.h"
#include "music/musicxml_written.h"

namespace loftbeat::music {

// How a part sounds against what is written.
struct Transposition {
  int semitones = 0;
  int doubled_at = 0;  // a second note so many semitones away; 0 = none
};

// The <attributes> in force while a part is read.
class MusicXmlAttributes {
 public:
  explicit MusicXmlAttributes(MusicXmlDocument& document) : document_(document) {}

  // Takes one <attributes> element. Throws ReadFailure.
  void read(pugi::xml_node attributes);

  // Thousandths of a division to the quarter; 0 before the first <divisions>.
  [[nodiscard]] std::int64_t divisions() const { return divisions_; }
  [[nodiscard]] const std::optional<Metre>& metre() const { return metre_; }
  [[nodiscard]] int staves() const { return staves_; }
  [[nodiscard]] Transposition transposition(int staff) const;
  // The key stated by the element read last, as it sounds; `at` is 0.
  [[nodiscard]] std::optional<KeyMark> take_key();

 private:
  void read_metre(pugi::xml_node time);
  void read_key(pugi::xml_node key);
  void read_transposition(pugi::xml_node transpose);

  MusicXmlDocument& document_;
  std::int64_t divisions_ = 0;
  std::optional<Metre> metre_;
  int staves_ = 1;
  std::map<int, Transposition> transpositions_;  // by staff; -1 = all that are not named
  std::optional<KeyMark> key_;
};

}  // namespace loftbeat::music
