#include "music/abc_parts.h"

#include <algorithm>

#include "music/abc_text.h"

namespace loftbeat::music {
namespace {

// The name at the start of V:, and what follows it.
std::pair<std::string, std::string_view> split_voice_name(std::string_view text) {
  text = abc_trimmed(text);
  const std::size_t end = std::min(text.find_first_of(" \t"), text.size());
  return {std::string(text.substr(0, end)), text.substr(end)};
}

}  // namespace

AbcPart& AbcParts::find_or_add(const std::string& name, AbcPlace at) {
  if (name.empty()) report_.fail(at, "V: names no voice; expected a name, as in V:1.");
  for (AbcPart& part : parts_) {
    if (part.voice.name() == name) return part;
  }
  if (parts_.size() >= kMaxAbcVoices) {
    report_.fail(at, "the tune has more than 64 voices; expected fewer.", ErrorKind::too_large);
  }
  AbcPart& part = parts_.emplace_back(name, report_, budget_);
  if (started_) prepare(part);
  return part;
}

void AbcParts::take_words(AbcVoice& voice, const std::vector<AbcWord>& words, AbcPlace at) {
  for (const AbcWord& word : words) {
    if (!take_abc_shift(word, voice.shift)) {
      report_.fail(at, word.first + "=" + abc_shown(word.second) +
                           " cannot be read; expected a whole number, as in " + word.first +
                           "=-1.");
    }
  }
}

void AbcParts::prepare(AbcPart& part) {
  AbcVoice& voice = part.voice;
  voice.unit = defaults.unit.value_or(abc_default_unit(defaults.metre));
  voice.propagation = defaults.propagation;
  voice.shift = defaults.shift;
  voice.set_metre(defaults.metre);
  voice.set_key(defaults.key);
  take_words(voice, part.words, {});
}

void AbcParts::define(std::string_view text, AbcPlace at) {
  const auto [name, rest] = split_voice_name(text);
  AbcPart& part = find_or_add(name, at);
  part.words = split_abc_words(rest);
  AbcVoice trial("", report_, budget_);
  take_words(trial, part.words, at);
}

void AbcParts::start() {
  started_ = true;
  for (AbcPart& part : parts_) prepare(part);
  if (defaults.tempo) current().voice.set_tempo(*defaults.tempo);
}

void AbcParts::select(std::string_view text, AbcPlace at) {
  const auto [name, rest] = split_voice_name(text);
  AbcPart& part = find_or_add(name, at);
  take_words(part.voice, split_abc_words(rest), at);
  const auto found =
      std::find_if(parts_.begin(), parts_.end(), [&](const AbcPart& p) { return &p == &part; });
  chosen_ = static_cast<std::size_t>(found - parts_.begin());
}

AbcPart& AbcParts::current() {
  if (chosen_) return parts_[*chosen_];
  return parts_.empty() ? find_or_add("1", {}) : parts_.front();
}

}  // namespace loftbeat::music
