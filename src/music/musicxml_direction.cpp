#include "music/musicxml_direction.h"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <string_view>

namespace loftbeat::music {
namespace {

// Quarters in a note value by its name in the file; 0 if it is none.
double quarters_of(std::string_view unit) {
  constexpr std::string_view kUnits[] = {"long",   "breve", "whole", "half", "quarter",
                                         "eighth", "16th",  "32nd",  "64th"};
  const auto* const found = std::find(std::begin(kUnits), std::end(kUnits), unit);
  if (found == std::end(kUnits)) return 0;
  return std::ldexp(16.0, -static_cast<int>(found - std::begin(kUnits)));
}

std::optional<double> first_number(std::string_view text) {
  const std::size_t begin = text.find_first_of("0123456789");
  if (begin == text.npos) return std::nullopt;
  const std::size_t end = std::min(text.find_first_not_of("0123456789.", begin), text.size());
  std::string_view number = text.substr(begin, end - begin);
  while (number.back() == '.') number.remove_suffix(1);
  return to_double(number);
}

std::optional<double> metronome_tempo(pugi::xml_node metronome) {
  const auto number = first_number(metronome.child("per-minute").child_value());
  double unit = quarters_of(trimmed(metronome.child("beat-unit").child_value()));
  double dot = unit / 2;
  for ([[maybe_unused]] pugi::xml_node dotted : metronome.children("beat-unit-dot")) {
    unit += dot;
    dot /= 2;
  }
  if (!number || unit == 0) return std::nullopt;
  return *number * unit;
}

std::string label(pugi::xml_attribute attribute) {
  const std::string_view text = trimmed(attribute.value());
  if (!attribute || text == "no") return {};
  return text.empty() ? "-" : std::string(text);
}

RepeatSigns read_jumps(pugi::xml_node sound) {
  RepeatSigns signs;
  signs.segno = label(sound.attribute("segno"));
  signs.coda = label(sound.attribute("coda"));
  signs.to_coda = label(sound.attribute("tocoda"));
  signs.dal_segno = label(sound.attribute("dalsegno"));
  signs.da_capo = !label(sound.attribute("dacapo")).empty();
  signs.fine = !label(sound.attribute("fine")).empty();
  signs.forward = !label(sound.attribute("forward-repeat")).empty();
  return signs;
}

void set_tempo(MusicXmlDocument& document, pugi::xml_node at, std::optional<double> tempo,
               DirectionFacts& facts) {
  if (tempo && *tempo >= 3 && *tempo <= 10'000) {
    facts.quarters_per_minute = tempo;
  } else {
    document.put_up_with(at, "a tempo mark without a usable number is passed over");
  }
}

std::int64_t offset_of(pugi::xml_node offset) {
  const double value = to_double(offset.child_value()).value_or(0);
  return std::llround(std::clamp(value, -1e9, 1e9) * 1000);
}

void read_sound(MusicXmlDocument& document, pugi::xml_node sound, DirectionFacts& facts) {
  merge_signs(facts.signs, read_jumps(sound));
  if (pugi::xml_node offset = sound.child("offset")) facts.offset = offset_of(offset);
  if (pugi::xml_attribute tempo = sound.attribute("tempo")) {
    set_tempo(document, sound, to_double(tempo.value()), facts);
  }
}

std::vector<int> ending_numbers(std::string_view text) {
  std::vector<int> numbers;
  while (!text.empty() && numbers.size() < 100) {
    const std::size_t end = std::min(text.find_first_of(", "), text.size());
    const int number = to_int(text.substr(0, end)).value_or(0);
    if (number >= 1 && number <= 1000) numbers.push_back(number);
    text.remove_prefix(std::min(end + 1, text.size()));
  }
  return numbers;
}

void read_ending(MusicXmlDocument& document, pugi::xml_node ending, RepeatSigns& signs) {
  const std::string_view type = ending.attribute("type").value();
  if (type == "stop" || type == "discontinue") signs.ending_stops = true;
  if (type != "start") return;
  signs.ending = ending_numbers(ending.attribute("number").value());
  if (signs.ending.empty()) {
    document.put_up_with(ending, "an ending without a number is played each time");
  }
}

void read_repeat(MusicXmlDocument& document, pugi::xml_node repeat, RepeatSigns& signs) {
  const std::string_view direction = repeat.attribute("direction").value();
  if (direction == "forward") signs.forward = true;
  if (direction != "backward") return;
  const pugi::xml_attribute times = repeat.attribute("times");
  const int played = times ? to_int(times.value()).value_or(-1) : 2;
  if (played < 1)
    document.fail(repeat, "<repeat> has no usable number of times; expected 1 or more.");
  signs.backward = played;
}

bool is_double(std::string_view style) {
  return style == "light-light" || style == "light-heavy" || style == "heavy-light" ||
         style == "heavy-heavy";
}

}  // namespace

DirectionFacts read_direction(MusicXmlDocument& document, pugi::xml_node direction) {
  DirectionFacts facts;
  if (std::string_view(direction.name()) == "sound") {
    read_sound(document, direction, facts);
    return facts;
  }
  const pugi::xml_node offset = direction.child("offset");
  if (std::string_view(offset.attribute("sound").value()) == "yes")
    facts.offset = offset_of(offset);
  for (pugi::xml_node sound : direction.children("sound")) read_sound(document, sound, facts);
  if (facts.quarters_per_minute) return facts;
  for (pugi::xml_node type : direction.children("direction-type")) {
    for (pugi::xml_node metronome : type.children("metronome")) {
      if (!metronome.child("per-minute")) continue;  // one note value told by another
      set_tempo(document, metronome, metronome_tempo(metronome), facts);
    }
  }
  return facts;
}

void read_barline(MusicXmlDocument& document, pugi::xml_node barline, Tick at, WrittenBar& bar) {
  const std::string_view location = barline.attribute("location").value();
  const bool is_double_bar = is_double(trimmed(barline.child("bar-style").child_value()));
  if (location == "middle") {
    if (is_double_bar) bar.double_bars.push_back(at);
    if (barline.child("repeat")) {
      document.put_up_with(barline,
                           "a repeat sign inside a bar is passed over; divide the bar there");
    }
    return;
  }
  const bool left = location == "left";
  const bool fermata = static_cast<bool>(barline.child("fermata"));
  bar.fermata_at_start |= left && fermata;
  bar.fermata_at_end |= !left && fermata;
  if (is_double_bar && left) bar.double_bars.push_back(0);
  bar.double_bar_at_end |= is_double_bar && !left;
  RepeatSigns signs;
  signs.segno = label(barline.attribute("segno"));
  signs.coda = label(barline.attribute("coda"));
  for (pugi::xml_node ending : barline.children("ending")) read_ending(document, ending, signs);
  if (pugi::xml_node repeat = barline.child("repeat")) read_repeat(document, repeat, signs);
  merge_signs(bar.signs, signs);
}

}  // namespace loftbeat::music
