#include "music/musicxml_note.h"

#include <algorithm>
#include <cmath>
#include <string_view>

#include "music/musicxml_read.h"
#include "music/words.h"

namespace loftbeat::music {
namespace {

constexpr std::int64_t kMaxDuration = 4'000'000'000;  // divisions; the bar's limit is checked later

int semitones_of_step(const MusicXmlDocument& document, pugi::xml_node step) {
  constexpr std::string_view kSteps = "C D EF G A B";
  const std::string_view text = trimmed(step.child_value());
  const std::size_t at = text.size() == 1 ? kSteps.find(text[0]) : kSteps.npos;
  if (at == kSteps.npos || text == " ")
    document.fail(step, "<step> is no letter of the scale; expected A to G.");
  return static_cast<int>(at);
}

int read_pitch(const MusicXmlDocument& document, pugi::xml_node pitch) {
  const pugi::xml_node alter = pitch.child("alter");
  const auto altered = alter ? to_double(alter.child_value()) : 0.0;
  if (!altered || std::abs(*altered) > 24) {
    document.fail(alter, "<alter> is out of range; expected a number of semitones from -24 to 24.");
  }
  const pugi::xml_node octave = pitch.child("octave");
  if (!pitch.child("step") || !octave) {
    document.fail(pitch, "<pitch> lacks its <step> or <octave>; expected both.");
  }
  return 12 * (document.whole_number(octave, 0, 9) + 1) +
         semitones_of_step(document, pitch.child("step")) + static_cast<int>(std::lround(*altered));
}

// <tie> is the sound and <tied> the drawing; the drawing counts where there is no <tie>.
void read_ties(pugi::xml_node note, NoteFacts& facts) {
  const auto take = [&](pugi::xml_node tie) {
    const std::string_view type = tie.attribute("type").value();
    facts.tie_start |= type == "start" || type == "continue";
    facts.tie_stop |= type == "stop" || type == "continue";
  };
  for (pugi::xml_node tie : note.children("tie")) take(tie);
  if (note.child("tie")) return;
  for (pugi::xml_node notations : note.children("notations")) {
    for (pugi::xml_node tied : notations.children("tied")) take(tied);
  }
}

void read_notations(pugi::xml_node note, NoteFacts& facts) {
  for (pugi::xml_node notations : note.children("notations")) {
    facts.fermata |= static_cast<bool>(notations.child("fermata"));
    for (pugi::xml_node marks : notations.children("articulations")) {
      facts.breath |= marks.child("breath-mark") || marks.child("caesura");
    }
  }
}

// "3", or a name such as "part1verse3"; anything else (a refrain, say) counts as the first verse.
int verse_number(const MusicXmlDocument& document, pugi::xml_node lyric) {
  std::string_view text = trimmed(lyric.attribute("number").value());
  if (const auto at = text.rfind("verse"); at != text.npos) text.remove_prefix(at + 5);
  if (text.empty() || text.find_first_not_of("0123456789") != text.npos) return 1;
  const int number = to_int(text).value_or(kMaxVerses + 1);
  if (number > kMaxVerses) {
    document.fail(lyric,
                  "<lyric> has the number " + std::string(text.substr(0, 20)) +
                      "; expected at most " + std::to_string(kMaxVerses) + " verses.",
                  ErrorKind::too_large);
  }
  return std::max(number, 1);
}

void read_lyrics(const MusicXmlDocument& document, pugi::xml_node note, NoteFacts& facts) {
  for (pugi::xml_node lyric : note.children("lyric")) {
    WrittenLyric found;
    found.verse = verse_number(document, lyric);
    for (pugi::xml_node text : lyric.children("text")) {
      const std::string_view syllable = trimmed(text.child_value());
      if (syllable.empty()) continue;
      found.text = true;
      found.words = joined_syllables(found.words, short_text(syllable, kMaxSyllableBytes));
    }
    const std::string_view syllabic = trimmed(lyric.child("syllabic").child_value());
    found.goes_on = found.text && (syllabic == "begin" || syllabic == "middle");
    found.line_end = lyric.child("end-line") || lyric.child("end-paragraph");
    if (found.text || found.line_end) facts.lyrics.push_back(found);
  }
}

// time-only="1,3": sounds the first and third time through.
std::uint32_t read_times(pugi::xml_node note) {
  std::string_view text = note.attribute("time-only").value();
  std::uint32_t times = 0;
  while (!text.empty()) {
    const std::size_t comma = std::min(text.find(','), text.size());
    const int time = to_int(text.substr(0, comma)).value_or(0);
    if (time >= 1 && time <= 32) times |= std::uint32_t{1} << (time - 1);
    text.remove_prefix(std::min(comma + 1, text.size()));
  }
  return times == 0 ? ~std::uint32_t{0} : times;
}

NoteFacts::Kind read_kind(pugi::xml_node note) {
  if (pugi::xml_node rest = note.child("rest")) {
    const bool whole_bar = std::string_view(rest.attribute("measure").value()) == "yes";
    return whole_bar ? NoteFacts::Kind::bar_rest : NoteFacts::Kind::rest;
  }
  if (note.child("cue") || note.child("unpitched")) return NoteFacts::Kind::silent;
  return NoteFacts::Kind::sounding;
}

void read_duration(const MusicXmlDocument& document, pugi::xml_node note, NoteFacts& facts) {
  const pugi::xml_node duration = note.child("duration");
  if (!duration) {
    if (facts.kind == NoteFacts::Kind::bar_rest) return;
    document.fail(note, "<note> lacks its <duration>; expected one in every note but grace notes.");
  }
  facts.thousandths = document.thousandths(duration, kMaxDuration);
  if (facts.thousandths == 0) {
    document.fail(duration, "<duration> is 0; expected a positive number.");
  }
}

}  // namespace

std::optional<NoteFacts> read_note(const MusicXmlDocument& document, pugi::xml_node note) {
  if (note.child("grace")) return std::nullopt;
  NoteFacts facts;
  facts.kind = read_kind(note);
  facts.chord = static_cast<bool>(note.child("chord"));
  read_duration(document, note, facts);
  if (pugi::xml_node voice = note.child("voice")) facts.voice = trimmed(voice.child_value());
  // Our own files: the voice of a note that stands in another voice's chord.
  const std::string_view id = note.attribute("id").value();
  if (id.substr(0, kOwnVoiceId.size()) == kOwnVoiceId) {
    const std::string_view own = id.substr(kOwnVoiceId.size());
    facts.voice = own.substr(0, own.find('.'));
  }
  if (pugi::xml_node staff = note.child("staff")) {
    facts.staff = document.whole_number(staff, 1, kMaxStavesOfPart) - 1;
  }
  read_notations(note, facts);
  if (facts.kind != NoteFacts::Kind::sounding) return facts;
  if (!note.child("pitch")) {
    document.fail(note, "<note> has no <pitch>, <rest> or <unpitched>; expected one of them.");
  }
  facts.written_pitch = read_pitch(document, note.child("pitch"));
  read_ties(note, facts);
  read_lyrics(document, note, facts);
  facts.times = read_times(note);
  return facts;
}

}  // namespace loftbeat::music
