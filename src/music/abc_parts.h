#pragma once

#include <deque>
#include <string>
#include <string_view>
#include <vector>

#include "music/abc_lyrics.h"
#include "music/abc_staves.h"
#include "music/abc_voice.h"

namespace loftbeat::music {

inline constexpr std::size_t kMaxAbcVoices = 64;

// A voice with its text.
struct AbcPart {
  AbcPart(const std::string& name, AbcReport& report, AbcBudget& budget)
      : voice(name, report, budget), lyrics(report, budget) {}
  AbcVoice voice;
  AbcLyrics lyrics;
  std::vector<AbcWord> words;  // what V: said in the header
};

// What the header says for all voices.
struct AbcDefaults {
  AbcMetre metre;  // none, until M: says one
  std::optional<AbcFraction> unit;
  AbcKey key;
  AbcShift shift;
  AbcPropagation propagation = AbcPropagation::pitch;
  std::optional<double> tempo;
};

// The voices of a tune, and which of them is being written. Inside the reader only.
class AbcParts {
 public:
  explicit AbcParts(AbcReport& report) : report_(report) {}

  AbcDefaults defaults;
  AbcStaves staves;

  // V: in the header: names a voice and how it sounds.
  void define(std::string_view text, AbcPlace at);
  // The header is over: voices get what it says.
  void start();
  // V: in the tune: the voice is written from here on.
  void select(std::string_view text, AbcPlace at);
  // The voice under way; the first of the header, else one named "1", where none was chosen.
  AbcPart& current();
  // Does the same to the voice under way, or to all while none was chosen.
  template <typename Act>
  void act_on_current(Act act) {
    if (chosen_) {
      act(parts_[*chosen_].voice);
      return;
    }
    current();
    for (AbcPart& part : parts_) act(part.voice);
  }

  [[nodiscard]] std::deque<AbcPart>& all() { return parts_; }

 private:
  AbcPart& find_or_add(const std::string& name, AbcPlace at);
  void prepare(AbcPart& part);
  void take_words(AbcVoice& voice, const std::vector<AbcWord>& words, AbcPlace at);

  AbcReport& report_;
  AbcBudget budget_;
  std::deque<AbcPart> parts_;
  std::optional<std::size_t> chosen_;
  bool started_ = false;
};

}  // namespace loftbeat::music
