#include "music/abc_decoration.h"

#include <array>

#include "music/abc_text.h"

namespace loftbeat::music {
namespace {

struct NamedMark {
  std::string_view name;  // in lower case, without dots and spaces
  AbcMark mark;
};

// Source: ABC 2.1, section 4.14; "ferm", "sintro" and "eintro" are what files in use have.
constexpr std::array kNamedMarks = {
    NamedMark{"fermata", AbcMark::fermata},
    NamedMark{"ferm", AbcMark::fermata},
    NamedMark{"invertedfermata", AbcMark::fermata},
    NamedMark{"invertedferm", AbcMark::fermata},
    NamedMark{"breath", AbcMark::breath},
    NamedMark{"caesura", AbcMark::breath},
    NamedMark{"shortphrase", AbcMark::breath},
    NamedMark{"mediumphrase", AbcMark::breath},
    NamedMark{"longphrase", AbcMark::breath},
    NamedMark{"sintro", AbcMark::play_over_begin},
    NamedMark{"eintro", AbcMark::play_over_end},
    NamedMark{"segno", AbcMark::segno},
    NamedMark{"coda", AbcMark::coda},
    NamedMark{"tocoda", AbcMark::to_coda},
    NamedMark{"dacoda", AbcMark::to_coda},
    NamedMark{"fine", AbcMark::fine},
    NamedMark{"dc", AbcMark::da_capo},
    NamedMark{"dacapo", AbcMark::da_capo},
    NamedMark{"dcalfine", AbcMark::da_capo},
    NamedMark{"dcalcoda", AbcMark::da_capo},
    NamedMark{"ds", AbcMark::dal_segno},
    NamedMark{"dalsegno", AbcMark::dal_segno},
    NamedMark{"dsalfine", AbcMark::dal_segno},
    NamedMark{"dsalcoda", AbcMark::dal_segno},
};

}  // namespace

std::optional<AbcMark> abc_decoration(std::string_view name) {
  std::string plain = abc_lower(name);
  std::erase_if(plain, [](char c) { return c == '.' || c == ' '; });
  for (const NamedMark& entry : kNamedMarks) {
    if (entry.name == plain) return entry.mark;
  }
  return std::nullopt;
}

bool AbcUserSymbols::define(std::string_view text) {
  text = abc_trimmed(text);
  const std::size_t equals = text.find('=');
  if (equals == text.npos) return false;
  const std::string_view letter = abc_trimmed(text.substr(0, equals));
  std::string_view value = abc_trimmed(text.substr(equals + 1));
  if (letter.size() != 1 || value.empty()) return false;
  const bool signs = value.size() > 2 && value.front() == value.back() &&
                     (value.front() == '!' || value.front() == '+');
  if (signs) value = value.substr(1, value.size() - 2);
  marks_[letter[0]] = signs ? abc_decoration(value) : std::nullopt;
  return true;
}

std::optional<AbcMark> AbcUserSymbols::find(char letter) const {
  const auto found = marks_.find(letter);
  return found == marks_.end() ? std::nullopt : found->second;
}

}  // namespace loftbeat::music
