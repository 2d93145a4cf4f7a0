#pragma once

#include "music/abc_cursor.h"
#include "music/abc_settings.h"

namespace loftbeat::music {

// Reads lines of music into the voices. Inside the ABC reader only.
class AbcMusic {
 public:
  AbcMusic(AbcParts& parts, AbcSettings& settings, AbcReport& report)
      : parts_(parts), settings_(settings), report_(report) {}

  // One line without its comment.
  void line(std::string_view text, int number);

 private:
  AbcVoice& voice() { return parts_.current().voice; }
  void take(AbcCursor& cursor);
  void tell_stray(AbcCursor& cursor);
  bool take_sounding(AbcCursor& cursor);
  bool take_bracket(AbcCursor& cursor);
  bool take_structure(AbcCursor& cursor);
  bool take_decoration(AbcCursor& cursor);
  bool take_ornament(AbcCursor& cursor);
  void take_rest(AbcCursor& cursor);
  void take_tuplet(AbcCursor& cursor);
  void take_broken_rhythm(AbcCursor& cursor);
  void pass_over(AbcCursor& cursor, char end, const char* what);

  AbcParts& parts_;
  AbcSettings& settings_;
  AbcReport& report_;
};

}  // namespace loftbeat::music
