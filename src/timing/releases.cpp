#include "timing/releases.h"

#include <algorithm>
#include <map>

namespace loftbeat::timing {

namespace {

constexpr double kSamePlace = 1e-6;   // beats
constexpr double kRoundingMs = 1e-6;  // so that bounds are inclusive

const music::Note& score_note(const Question& q, int index) {
  return q.score.notes[static_cast<std::size_t>(index)];
}

// Written end of the last chord in a stretch of score that ends no later than the stretch.
Tick chord_end(const music::Score& score, TickSpan stretch) {
  auto note = std::partition_point(score.notes.begin(), score.notes.end(),
                                   [&](const music::Note& n) { return n.onset < stretch.begin; });
  Tick end = stretch.begin;
  for (; note != score.notes.end() && note->onset < stretch.end; ++note)
    end = std::max(end, std::min(note->onset + note->length, stretch.end));
  return end;
}

std::vector<int> tune_repeats(const music::Score& score) {
  std::vector<int> repeats;
  const music::Note* before = nullptr;
  for (std::size_t i = 0; i < score.notes.size(); ++i) {
    const music::Note& note = score.notes[i];
    if (note.voice != 0) continue;
    if (before != nullptr && before->pitch == note.pitch &&
        before->onset + before->length == note.onset)
      repeats.push_back(static_cast<int>(i));
    before = &note;
  }
  return repeats;
}

double spread_ms(const std::vector<Instant>& offs) {
  const auto [low, high] = std::minmax_element(offs.begin(), offs.end());
  return milliseconds(*high - *low);
}

Measured<double> sustain_share(const Question& q, const follow::AlignedPass& pass) {
  const double whole = seconds(pass.last_sound - pass.first_onset);
  if (whole <= 0) return Measured<double>::unknown("nothing was played");
  double down = 0;
  for (const take::PedalSpan& span : q.take.sustain) {
    const Instant from = std::max(span.down, pass.first_onset);
    const Instant to = std::min(span.up, pass.last_sound);
    if (to > from) down += seconds(to - from);
  }
  return down / whole;
}

}  // namespace

// A matched note of the pass with its score note.
struct ReleaseMeter::Ended {
  int score = 0;
  Tick end = 0;
  int voice = 0;
  double place = 0;  // beats on the pass's way
  double end_place = 0;
  Instant on;
  Instant off;
};

// When each voice itself struck a place.
class ReleaseMeter::VoiceOnsets {
 public:
  explicit VoiceOnsets(const std::vector<Ended>& notes) {
    for (const Ended& note : notes) onsets_.push_back({note.voice, note.place, seconds(note.on)});
    std::sort(onsets_.begin(), onsets_.end(), before);
  }

  [[nodiscard]] std::optional<double> onset_s(int voice, double place) const {
    const auto found = std::lower_bound(onsets_.begin(), onsets_.end(),
                                        Onset{voice, place - kSamePlace, 0}, before);
    const bool there =
        found != onsets_.end() && found->voice == voice && found->place <= place + kSamePlace;
    return there ? std::optional<double>(found->t) : std::nullopt;
  }

 private:
  struct Onset {
    int voice = 0;
    double place = 0;
    double t = 0;
  };
  static bool before(const Onset& a, const Onset& b) {
    return a.voice != b.voice ? a.voice < b.voice : a.place < b.place;
  }
  std::vector<Onset> onsets_;
};

ReleaseMeter::ReleaseMeter(const Question& question)
    : question_(question), repeats_(tune_repeats(question.score)) {
  for (const music::Phrase& phrase : question.route.phrases)
    phrase_ends_.push_back(chord_end(question.score, phrase.span));
  std::sort(phrase_ends_.begin(), phrase_ends_.end());
  for (const follow::HeldNote& held : question.alignment.held)
    held_.emplace_back(held.pass, held.score);
  std::sort(held_.begin(), held_.end());
}

std::vector<ReleaseMeter::Ended> ReleaseMeter::ended_notes(int pass,
                                                           const FittedPass& fitted) const {
  std::vector<Ended> notes;
  const auto& matches = question_.alignment.notes;
  for (std::size_t i = fitted.pass->first_note; i <= fitted.pass->last_note && i < matches.size();
       ++i) {
    if (matches[i].pass != pass || matches[i].score < 0) continue;
    const music::Note& note = score_note(question_, matches[i].score);
    const auto place = fitted.way.place_of(note.onset);
    if (!place) continue;
    const double length = static_cast<double>(note.length) / static_cast<double>(fitted.way.beat());
    const take::TakenNote& taken = question_.take.notes[i];
    notes.push_back({matches[i].score, note.onset + note.length, note.voice, *place,
                     *place + length, taken.on, taken.off});
  }
  return notes;
}

bool ReleaseMeter::sounds_at(int pitch, Tick tick) const {
  const auto& notes = question_.score.notes;
  auto note = std::partition_point(notes.begin(), notes.end(),
                                   [&](const music::Note& n) { return n.onset < tick; });
  for (; note != notes.end() && note->onset == tick; ++note)
    if ((note->pitch - pitch) % 12 == 0) return true;
  return false;
}

void ReleaseMeter::put_smears(const std::vector<Ended>& notes, const FittedPass& fitted,
                              std::optional<double> next_onset_s, Releases& out) const {
  std::vector<double> overlaps;
  const VoiceOnsets own(notes);
  for (const Ended& note : notes) {
    const auto next = std::partition_point(
        fitted.struck.begin(), fitted.struck.end(),
        [&](const StruckPlace& p) { return p.x < note.end_place - kSamePlace; });
    const bool last = next == fitted.struck.end();
    if (last && !next_onset_s) continue;
    ++out.notes;
    const double cleared =
        last ? *next_onset_s : own.onset_s(note.voice, next->x).value_or(next->t);
    const double overlap = (seconds(note.off) - cleared) * 1000;
    const Tick at = last ? note.end : next->tick;
    if (overlap <= question_.plan.tolerances.smear_ms + kRoundingMs) continue;
    if (!last && sounds_at(score_note(question_, note.score).pitch, at)) continue;
    overlaps.push_back(overlap);
    out.smear_at.push_back(at);
  }
  out.smears = static_cast<int>(overlaps.size());
  out.smear_ms = overlaps.empty() ? Measured<double>::unknown("nothing smeared")
                                  : Measured<double>(median(std::move(overlaps)));
}

void ReleaseMeter::put_repeats(int pass, const std::vector<Ended>& notes, Releases& out) const {
  std::vector<int> struck;
  for (const Ended& note : notes) struck.push_back(note.score);
  std::sort(struck.begin(), struck.end());
  for (int repeat : repeats_) {
    const bool held = std::binary_search(held_.begin(), held_.end(), std::make_pair(pass, repeat));
    if (held) ++out.repeats_unstruck;
    if (held || std::binary_search(struck.begin(), struck.end(), repeat)) ++out.repeats;
  }
}

void ReleaseMeter::put_together(const std::vector<Ended>& notes, Releases& out) const {
  std::map<Tick, std::vector<Instant>> by_phrase;
  for (const Ended& note : notes)
    if (std::binary_search(phrase_ends_.begin(), phrase_ends_.end(), note.end))
      by_phrase[note.end].push_back(note.off);
  std::vector<double> spreads;
  for (const auto& [end, offs] : by_phrase)
    if (offs.size() > 1) spreads.push_back(spread_ms(offs));
  out.together_ms = spreads.empty()
                        ? Measured<double>::unknown("no phrase end with two voices or more")
                        : Measured<double>(median(std::move(spreads)));
}

Releases ReleaseMeter::measure(int pass, const FittedPass& fitted,
                               std::optional<double> next_onset_s) const {
  Releases out;
  const std::vector<Ended> notes = ended_notes(pass, fitted);
  put_smears(notes, fitted, next_onset_s, out);
  put_repeats(pass, notes, out);
  put_together(notes, out);
  out.sustain_share = sustain_share(question_, *fitted.pass);
  return out;
}

Measured<double> last_chord_together_ms(const Question& question, int pass) {
  const auto& aligned = question.alignment.passes[static_cast<std::size_t>(pass)];
  const auto& matches = question.alignment.notes;
  if (aligned.spans.empty()) return Measured<double>::unknown("the pass has no end");
  const Tick end = chord_end(question.score, aligned.spans.back());
  std::vector<Instant> offs;
  for (std::size_t i = aligned.first_note; i <= aligned.last_note && i < matches.size(); ++i) {
    if (matches[i].pass != pass || matches[i].score < 0) continue;
    const music::Note& note = score_note(question, matches[i].score);
    if (note.onset + note.length == end) offs.push_back(question.take.notes[i].off);
  }
  if (offs.size() < 2) return Measured<double>::unknown("fewer than two voices end there");
  return spread_ms(offs);
}

}  // namespace loftbeat::timing
