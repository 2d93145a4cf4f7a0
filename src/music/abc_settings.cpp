#include "music/abc_settings.h"

#include <algorithm>

#include "music/abc_text.h"
#include "music/heading.h"

namespace loftbeat::music {
namespace {

constexpr std::size_t kMaxStavesBytes = 8192;  // of %%score that are looked at

}  // namespace

AbcMetre AbcSettings::metre(std::string_view text, AbcPlace at) const {
  const auto metre = parse_abc_metre(text);
  if (!metre) {
    report_.fail(at, "the metre " + abc_shown(abc_trimmed(text)) +
                         " cannot be read; expected one as in M:3/4, M:C or M:none.");
  }
  return *metre;
}

AbcFraction AbcSettings::unit(std::string_view text, AbcPlace at) const {
  const auto unit = parse_abc_fraction(text);
  const bool power = unit && unit->over <= unit->under && (unit->under & (unit->under - 1)) == 0 &&
                     unit->under <= 512;
  if (!power) {
    report_.fail(at, "the unit of length " + abc_shown(abc_trimmed(text)) +
                         " cannot be read; expected one as in L:1/4.");
  }
  return *unit;
}

AbcKey AbcSettings::key(std::string_view text, const AbcKey& before, AbcPlace at) const {
  const auto key = parse_abc_key(text, before);
  if (!key) {
    report_.fail(at, "the key " + abc_shown(abc_trimmed(text)) +
                         " cannot be read; expected one as in K:Bb, K:F#m or K:D dorian.");
  }
  return *key;
}

std::optional<double> AbcSettings::tempo(std::string_view text, AbcFraction unit, AbcPlace at) {
  const AbcTempo tempo = parse_abc_tempo(text, unit);
  if (!tempo.readable) {
    report_.put_up_with(at, "the tempo " + abc_shown(abc_trimmed(text)) +
                                " cannot be read; expected one as in Q:1/4=80; it is passed over");
  }
  return tempo.quarters_per_minute;
}

void AbcSettings::shift(std::string_view text, AbcShift& into, AbcPlace at) const {
  for (const AbcWord& word : split_abc_words(text)) {
    if (take_abc_shift(word, into)) continue;
    report_.fail(at, word.first + "=" + abc_shown(word.second) +
                         " cannot be read; expected a whole number, as in " + word.first + "=-1.");
  }
}

void AbcSettings::common_field(char letter, std::string_view text, AbcPlace at) {
  switch (letter) {
    case 'I': directive(text, at); return;
    case 'U':
      if (!symbols_.define(text)) {
        report_.put_up_with(at, "U: defines nothing; expected it as in U:T = !fermata!");
      }
      return;
    case 'm': report_.put_up_with(at, "macros (m:) are not carried out"); return;
    case 'W':
      if (const int number = abc_verse_number(text); number > 0 && numbers_below_.size() < 1000) {
        numbers_below_.push_back(number);
      }
      return;
    default: return;  // what is told of the tune, and what is yet to be invented
  }
}

bool AbcSettings::header_field(char letter, std::string_view text, AbcPlace at) {
  AbcDefaults& defaults = parts_.defaults;
  switch (letter) {
    case 'T':
      if (title_.empty()) {
        title_ = plain_abc_text(text);
        return false;
      }
      [[fallthrough]];
    case 'N': take_heading(plain_abc_text(text), HeadingPlace::below_title, heading_); return false;
    case 'C':
    case 'S': take_heading(plain_abc_text(text), HeadingPlace::elsewhere, heading_); return false;
    case 'M': defaults.metre = metre(text, at); return false;
    case 'L': defaults.unit = unit(text, at); return false;
    case 'V': parts_.define(text, at); return false;
    case 'Q': {
      const AbcFraction counted = defaults.unit.value_or(abc_default_unit(defaults.metre));
      defaults.tempo = tempo(text, counted, at);
      return false;
    }
    case 'P':
      if (abc_trimmed(text).size() > 1) {
        report_.put_up_with(
            at, "the order of parts in P: is not followed; the tune is read as written");
      }
      return false;
    case 'K':
      defaults.key = key(text, {}, at);
      shift(text, defaults.shift, at);
      started_ = true;
      parts_.start();
      return true;
    default: common_field(letter, text, at); return false;
  }
}

void AbcSettings::body_field(char letter, std::string_view text, AbcPlace at) {
  switch (letter) {
    case 'V': parts_.select(text, at); return;
    case 'M': {
      const AbcMetre changed = metre(text, at);
      parts_.act_on_current([&](AbcVoice& voice) { voice.set_metre(changed); });
      return;
    }
    case 'L': {
      const AbcFraction changed = unit(text, at);
      parts_.act_on_current([&](AbcVoice& voice) { voice.unit = changed; });
      return;
    }
    case 'K':
      parts_.act_on_current([&](AbcVoice& voice) {
        const AbcKey changed = key(text, voice.key(), at);
        if (changed != voice.key()) voice.set_key(changed);
        shift(text, voice.shift, at);
      });
      return;
    case 'Q':
      parts_.act_on_current([&](AbcVoice& voice) {
        if (const auto rate = tempo(text, voice.unit, at)) voice.set_tempo(*rate);
      });
      return;
    case 'w': {
      AbcPart& part = parts_.current();
      part.lyrics.line(text, part.voice, at);
      return;
    }
    default: common_field(letter, text, at); return;
  }
}

void AbcSettings::propagate(std::string_view word) {
  AbcPropagation how = AbcPropagation::pitch;
  if (word == "not") how = AbcPropagation::none;
  if (word == "octave") how = AbcPropagation::octave;
  parts_.defaults.propagation = how;
  if (started_) {
    for (AbcPart& part : parts_.all()) part.voice.propagation = how;
  }
}

void AbcSettings::directive(std::string_view text, AbcPlace at) {
  text = abc_trimmed(text);
  const std::size_t end = std::min(text.find_first_of(" \t(["), text.size());
  const std::string_view name = text.substr(0, end);
  const std::string_view rest = abc_trimmed(text.substr(end));
  if (name == "score" || name == "staves") {
    add_abc_staves(parts_.staves, parse_abc_staves(rest.substr(0, kMaxStavesBytes)));
    if (parts_.staves.size() > kMaxAbcVoices * 4) {
      report_.fail(at, "the score has too many staves; expected 64 voices at most.",
                   ErrorKind::too_large);
    }
  } else if (name == "propagate-accidentals") {
    propagate(rest.substr(0, std::min(rest.find_first_of(" \t"), rest.size())));
  }
}

int AbcSettings::verses_below(int sung) const {
  int verses = sung;
  for (const int number : numbers_below_) {
    if (number == verses + 1) verses = number;
  }
  return verses;
}

}  // namespace loftbeat::music
