#pragma once

#include <string>
#include <string_view>

#include "music/abc_decoration.h"
#include "music/abc_parts.h"

namespace loftbeat::music {

// Takes what the fields and directives of one tune say. Inside the ABC reader only.
class AbcSettings {
 public:
  AbcSettings(AbcParts& parts, AbcReport& report) : parts_(parts), report_(report) {}

  // A field of the header; `at` is where its text begins. True if it was K:, which ends the header.
  bool header_field(char letter, std::string_view text, AbcPlace at);
  // A field within the tune, on a line of its own or in brackets.
  void body_field(char letter, std::string_view text, AbcPlace at);
  // What stands behind %% or I:.
  void directive(std::string_view text, AbcPlace at);

  [[nodiscard]] const AbcUserSymbols& symbols() const { return symbols_; }
  [[nodiscard]] const std::string& title() const { return title_; }
  // The tune's name and poetic metre, as far as the header tells them.
  [[nodiscard]] const Score& heading() const { return heading_; }
  // By the numbers in W:, 0 if there are none that follow `sung`, the verses under the notes.
  [[nodiscard]] int verses_below(int sung) const;

 private:
  AbcMetre metre(std::string_view text, AbcPlace at) const;
  AbcFraction unit(std::string_view text, AbcPlace at) const;
  AbcKey key(std::string_view text, const AbcKey& before, AbcPlace at) const;
  std::optional<double> tempo(std::string_view text, AbcFraction unit, AbcPlace at);
  void shift(std::string_view text, AbcShift& into, AbcPlace at) const;
  void common_field(char letter, std::string_view text, AbcPlace at);
  void propagate(std::string_view word);

  AbcParts& parts_;
  AbcReport& report_;
  AbcUserSymbols symbols_;
  std::string title_;
  Score heading_;  // of which only tune and poetic_metre are used
  std::vector<int> numbers_below_;
  bool started_ = false;
};

}  // namespace loftbeat::music
