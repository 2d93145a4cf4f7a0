#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>

#include "music/abc_voice.h"

namespace loftbeat::music {

// What a decoration says of time, form or phrase, by its name without the signs round it; nothing
// for all others (ornaments, dynamics, fingering), which are left out. "fermata", "ferm" and
// "invertedfermata" are one; so are "D.C." and "dacapo".
[[nodiscard]] std::optional<AbcMark> abc_decoration(std::string_view name);

// The single letters that stand for decorations; U: changes them.
class AbcUserSymbols {
 public:
  // "T = !fermata!" or "T = +fermata+"; other texts ("T = !nil!") take the letter's meaning away.
  // False if it is no definition.
  bool define(std::string_view text);
  [[nodiscard]] std::optional<AbcMark> find(char letter) const;

 private:
  std::map<char, std::optional<AbcMark>> marks_ = {
      {'H', AbcMark::fermata}, {'O', AbcMark::coda}, {'S', AbcMark::segno}};
};

}  // namespace loftbeat::music
