#include <algorithm>
#include <array>
#include <tuple>

#include "music/phrases.h"
#include "notate/lengths.h"
#include "notate/lines.h"
#include "notate/noted_hymn.h"
#include "notate/parts.h"

namespace loftbeat::notate {
namespace {

constexpr double kPartMargin = 1.0;  // of sharing a chord out; surer ones are not asked about
constexpr double kKeyMargin = 0.04;  // of the key's fit

// How doubtful the kinds are beside each other: margins are brought to one scale.
constexpr double kKeyScale = 40;

constexpr std::array<const char*, 4> kPartNames = {"soprano", "alto", "tenor", "bass"};

std::string part_name(int voice, int voices) {
  if (voices == 4) return kPartNames[static_cast<std::size_t>(std::clamp(voice, 0, 3))];
  return "part " + std::to_string(voice + 1);
}

int staff_of(int voice, int voices) {
  if (voices <= 1) return 0;
  return voices == 2 ? voice : voice / 2;
}

std::string beats_words(Tick length, const Setting& setting) {
  const Tick unit = 4 * kTicksPerQuarter / setting.beat_type;
  const std::string number =
      length % unit == 0 ? std::to_string(length / unit) : std::to_string(length / unit) + "½";
  const std::string plain = number == "0½" ? "½" : number;
  return plain + (length <= unit ? " beat" : " beats");
}

class HymnWriter {
 public:
  explicit HymnWriter(const NotedHymn& hymn) : hymn_(hymn) {}

  Written write() {
    chords_ = chords_of(hymn_.keys);
    voices_ = voices_needed(hymn_.keys, chords_, hymn_.setting.voices);
    parts_ = share_out(hymn_.keys, chords_, voices_);
    lengths_ = find_lengths(hymn_.keys, parts_, hymn_.setting);
    write_score();
    ask_places();
    ask_parts();
    ask_rests();
    ask_key();
    ask_lines();
    std::stable_sort(written_.doubts.begin(), written_.doubts.end(),
                     [](const Doubt& a, const Doubt& b) { return a.margin < b.margin; });
    if (written_.doubts.size() > kMostDoubts) written_.doubts.resize(kMostDoubts);
    return std::move(written_);
  }

 private:
  void write_score();
  void write_lines();
  void ask_places();
  void ask_parts();
  void ask_rests();
  void ask_key();
  void ask_lines();
  [[nodiscard]] bool is_answered(DoubtKind kind, Tick at) const {
    return std::find(hymn_.answered.begin(), hymn_.answered.end(), NotedHymn::Answered{kind, at}) !=
           hymn_.answered.end();
  }
  [[nodiscard]] std::string at_words(Tick at) const { return place_words(hymn_.setting, at); }

  const NotedHymn& hymn_;
  int voices_ = 1;
  std::vector<StruckChord> chords_;
  Parts parts_;
  Lengths lengths_;
  LineGuess guess_;
  Written written_;
};

void HymnWriter::write_score() {
  music::Score& score = written_.score;
  score.title = hymn_.title;
  for (std::size_t v = 0; v < lengths_.voices.size(); ++v) {
    const int voice = static_cast<int>(v);
    for (const PartNote& note : lengths_.voices[v])
      score.notes.push_back({note.at, note.length, note.pitch, voice, staff_of(voice, voices_)});
  }
  std::sort(score.notes.begin(), score.notes.end(), [](const auto& a, const auto& b) {
    return std::tie(a.onset, a.pitch, a.voice) < std::tie(b.onset, b.pitch, b.voice);
  });
  // The same key twice at one place in one part is one note.
  score.notes.erase(std::unique(score.notes.begin(), score.notes.end(),
                                [](const auto& a, const auto& b) {
                                  return std::tie(a.onset, a.pitch, a.voice) ==
                                         std::tie(b.onset, b.pitch, b.voice);
                                }),
                    score.notes.end());
  score.bars = bars_until(hymn_.setting, lengths_.end);
  score.length = lengths_.end;
  score.voices = voices_;
  score.staves = staff_of(voices_ - 1, voices_) + 1;
  const double beat = quarters(beat_length(hymn_.setting));
  score.tempi = {{0, hymn_.setting.tempo_bpm * beat}};
  written_.key = guess_key(score.notes);
  score.keys = {hymn_.key.value_or(written_.key.key)};
  write_lines();
}

void HymnWriter::write_lines() {
  music::LineEnds ends;
  ends.breath_marks = hymn_.lines;
  if (!hymn_.lines_known) {
    guess_ = guess_lines(chords_, written_.score.length, hymn_.setting);
    ends.breath_marks = guess_.lines;
  }
  music::find_phrases(written_.score, ends);
}

void HymnWriter::ask_places() {
  for (const PlaceDoubt& place : hymn_.places) {
    if (is_answered(DoubtKind::place, place.at)) continue;
    Doubt doubt;
    doubt.kind = DoubtKind::place;
    doubt.at = place.at;
    doubt.other = place.other;
    doubt.margin = place.margin;
    doubt.question = "The chord at " + at_words(place.at) + " may stand elsewhere. Where is it?";
    doubt.choices = {"at " + at_words(place.at), "at " + at_words(place.other)};
    written_.doubts.push_back(std::move(doubt));
  }
}

void HymnWriter::ask_parts() {
  for (std::size_t c = 0; c < parts_.margins.size(); ++c) {
    const StruckChord& chord = chords_[c];
    if (parts_.margins[c] >= kPartMargin || is_answered(DoubtKind::part, chord.at)) continue;
    std::string now, then;
    const auto add = [](std::string& list, const std::string& name) {
      if (list.find(name) == std::string::npos) list += (list.empty() ? "" : " and ") + name;
    };
    for (std::size_t v = 0; v < parts_.voices.size(); ++v)
      for (const PartStroke& stroke : parts_.voices[v])
        if (stroke.at == chord.at) add(now, part_name(static_cast<int>(v), voices_));
    for (const int voice : parts_.voice_of_other[c]) add(then, part_name(voice, voices_));
    if (now == then) continue;  // unlike only in who shares a key: nothing to be heard
    Doubt doubt;
    doubt.kind = DoubtKind::part;
    doubt.at = chord.at;
    doubt.margin = parts_.margins[c];
    doubt.keys = chord.keys;
    doubt.voices = parts_.voice_of_other[c];
    doubt.question = "Whose is what is struck at " + at_words(chord.at) + "?";
    doubt.choices = {"the " + now + "'s", "the " + then + "'s"};
    written_.doubts.push_back(std::move(doubt));
  }
}

void HymnWriter::ask_rests() {
  for (const RestDoubt& rest : lengths_.doubts) {
    if (is_answered(DoubtKind::rest, rest.at)) continue;
    Doubt doubt;
    doubt.kind = DoubtKind::rest;
    doubt.at = rest.at;
    doubt.other = rest.other;
    doubt.keys = rest.keys;
    doubt.margin = rest.margin;
    doubt.question = "How long is what begins at " + at_words(rest.at) + "?";
    doubt.choices = {beats_words(rest.length, hymn_.setting),
                     beats_words(rest.other, hymn_.setting)};
    written_.doubts.push_back(std::move(doubt));
  }
}

void HymnWriter::ask_key() {
  if (hymn_.key || written_.key.margin >= kKeyMargin || is_answered(DoubtKind::key, 0)) return;
  Doubt doubt;
  doubt.kind = DoubtKind::key;
  doubt.key = written_.key.other;
  doubt.margin = written_.key.margin * kKeyScale;
  doubt.question = "Which key is printed?";
  doubt.choices = {key_name(written_.key.key), key_name(written_.key.other)};
  written_.doubts.push_back(std::move(doubt));
}

void HymnWriter::ask_lines() {
  if (hymn_.lines_known || guess_.lines.empty() || is_answered(DoubtKind::lines, 0)) return;
  Doubt doubt;
  doubt.kind = DoubtKind::lines;
  doubt.margin = guess_.sureness;
  doubt.lines = guess_.lines;
  doubt.question = "Do lines of the text begin at ";
  for (std::size_t i = 0; i < guess_.lines.size(); ++i)
    doubt.question += (i == 0 ? "" : "; ") + at_words(guess_.lines[i]);
  doubt.question += "?";
  doubt.choices = {"yes", "no: leave them out"};
  written_.doubts.push_back(std::move(doubt));
}

}  // namespace

Written write(const NotedHymn& hymn) { return HymnWriter(hymn).write(); }

}  // namespace loftbeat::notate
