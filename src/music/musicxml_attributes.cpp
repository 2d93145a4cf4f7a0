#include "music/musicxml_attributes.h"

#include <string_view>
#include <utility>

namespace loftbeat::music {
namespace {

constexpr std::int64_t kMaxDivisions = 1'000'000;
constexpr int kMaxBeats = 256;

// "3+2" gives 5. Nothing if any of it is not a number.
std::optional<int> sum_of_beats(std::string_view text) {
  int sum = 0;
  for (;;) {
    const std::size_t plus = text.find('+');
    const auto beats = to_int(text.substr(0, plus));
    if (!beats || *beats < 1 || *beats > kMaxBeats) return std::nullopt;
    sum += *beats;
    if (sum > kMaxBeats) return std::nullopt;
    if (plus == text.npos) return sum;
    text.remove_prefix(plus + 1);
  }
}

bool is_note_value(int beat_type) {
  return beat_type >= 1 && beat_type <= 64 && (beat_type & (beat_type - 1)) == 0;
}

// 3/4 and 2/8 one after the other are 8/8.
Metre add(const Metre& a, const Metre& b) {
  const int beat_type = std::max(a.beat_type, b.beat_type);
  return {a.beats * (beat_type / a.beat_type) + b.beats * (beat_type / b.beat_type), beat_type};
}

// The signature that sounds when one with `fifths` is transposed: seven semitones are one fifth.
int sounding_fifths(int fifths, int semitones) {
  int shifted = fifths + 7 * (semitones % 12);
  while (shifted > 7) shifted -= 12;
  while (shifted < -7) shifted += 12;
  return shifted;
}

}  // namespace

void MusicXmlAttributes::read(pugi::xml_node attributes) {
  if (pugi::xml_node divisions = attributes.child("divisions")) {
    divisions_ = document_.thousandths(divisions, kMaxDivisions);
    if (divisions_ == 0) {
      document_.fail(divisions,
                     "<divisions> is 0; expected a positive number of parts to a quarter.");
    }
  }
  if (pugi::xml_node staves = attributes.child("staves")) {
    staves_ = document_.whole_number(staves, 1, kMaxStavesOfPart);
  }
  if (pugi::xml_node time = attributes.child("time")) read_metre(time);
  for (pugi::xml_node transpose : attributes.children("transpose")) read_transposition(transpose);
  if (pugi::xml_node key = attributes.child("key")) read_key(key);
}

void MusicXmlAttributes::read_metre(pugi::xml_node time) {
  if (time.child("senza-misura")) {
    metre_.reset();
    return;
  }
  std::optional<Metre> metre;
  for (pugi::xml_node beats : time.children("beats")) {
    const pugi::xml_node type = beats.next_sibling("beat-type");
    const auto sum = sum_of_beats(trimmed(beats.child_value()));
    const int unit = to_int(type.child_value()).value_or(0);
    if (!sum || !is_note_value(unit)) {
      document_.fail(beats,
                     "<time> is not a metre; expected beats from 1 to 256 and a beat-type of 1, 2, "
                     "4, 8, 16, 32 or 64.");
    }
    metre = metre ? add(*metre, {*sum, unit}) : Metre{*sum, unit};
    if (metre->beats > kMaxBeats) {
      document_.fail(beats, "<time> adds up to more than 256 beats; expected fewer.");
    }
  }
  if (metre) metre_ = metre;
}

void MusicXmlAttributes::read_transposition(pugi::xml_node transpose) {
  Transposition found;
  if (pugi::xml_node chromatic = transpose.child("chromatic")) {
    const auto semitones = to_double(chromatic.child_value());
    if (!semitones || *semitones < -127 || *semitones > 127) {
      document_.fail(
          chromatic,
          "<chromatic> is out of range; expected a number of semitones from -127 to 127.");
    }
    found.semitones = static_cast<int>(*semitones < 0 ? *semitones - 0.5 : *semitones + 0.5);
  }
  if (pugi::xml_node octaves = transpose.child("octave-change")) {
    found.semitones += 12 * document_.whole_number(octaves, -10, 10);
  }
  if (pugi::xml_node doubled = transpose.child("double")) {
    found.doubled_at = std::string_view(doubled.attribute("above").value()) == "yes" ? 12 : -12;
  }
  const int staff = transpose.attribute("number").as_int(0) - 1;
  if (staff >= kMaxStavesOfPart)
    document_.fail(transpose, "<transpose> names a staff above 64; expected a lower one.");
  if (staff < 0) transpositions_.clear();
  transpositions_[std::max(staff, -1)] = found;
}

void MusicXmlAttributes::read_key(pugi::xml_node key) {
  const pugi::xml_node fifths = key.child("fifths");
  const auto value = fifths ? to_int(fifths.child_value()) : std::nullopt;
  if (!value || *value < -7 || *value > 7) {
    document_.put_up_with(key,
                          "a key signature that is not one of the usual fifteen is passed over");
    return;
  }
  const int staff = std::max(key.attribute("number").as_int(1) - 1, 0);
  const bool minor = trimmed(key.child("mode").child_value()) == "minor";
  key_ = KeyMark{0, sounding_fifths(*value, transposition(staff).semitones), minor};
}

Transposition MusicXmlAttributes::transposition(int staff) const {
  auto found = transpositions_.find(staff);
  if (found == transpositions_.end()) found = transpositions_.find(-1);
  return found == transpositions_.end() ? Transposition{} : found->second;
}

std::optional<KeyMark> MusicXmlAttributes::take_key() { return std::exchange(key_, std::nullopt); }

}  // namespace loftbeat::music
