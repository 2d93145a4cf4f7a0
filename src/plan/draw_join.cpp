#include <cmath>

#include <fmt/format.h>

#include "plan/places.h"
#include "plan/route.h"

namespace loftbeat::plan {
namespace {

constexpr Tick kColumnsPerBeat = 4;
constexpr std::string_view kBarLine = "│";
constexpr std::string_view kSounding = "━";
constexpr std::string_view kSilent = "·";
constexpr std::string_view kEither = "╌";
constexpr std::string_view kUpbeat = "─";
constexpr std::string_view kEntry = "▸";

// A row of columns, a quarter of a beat each, that walks through a bar of `full` ticks. Counts
// stand where beats begin; a bar line before each first beat.
class Row {
 public:
  Row(Tick beat, Tick full, Tick place) : beat_(beat), full_(full), place_(place) {}

  void step(std::string_view fill) {
    if (place_ >= full_) {
      place_ -= full_;
      text_ += kBarLine;
    }
    const Tick column = beat_ / kColumnsPerBeat;
    const Tick into_beat = place_ % beat_;
    const bool begins = into_beat == 0 || into_beat + column > beat_;
    const std::string count = fmt::format("{}", (place_ + column - 1) / beat_ + 1);
    if (begins) {
      text_ += count;
      wide_ = count.size() > 1;
    } else if (wide_) {
      wide_ = false;  // the second digit of the count stands in this column
    } else {
      text_ += fill;
    }
    place_ += column;
  }

  void mark(std::string_view text) { text_ += text; }
  [[nodiscard]] Tick place() const { return place_; }
  std::string take() { return std::move(text_); }

 private:
  Tick beat_;
  Tick full_;
  Tick place_;
  bool wide_ = false;
  std::string text_;
};

int columns(double beats) {
  return static_cast<int>(std::lround(beats * static_cast<double>(kColumnsPerBeat)));
}

struct Stretch {
  double beats;
  std::string_view fill;
};

// How the time from the last chord to the entry is filled.
std::vector<Stretch> stretches(const Join& join, double span, double written) {
  if (join.kind == JoinKind::hold_and_lift) {
    return {{join.hold_beats, kSounding}, {join.lift_beats, kSilent}};
  }
  const double sounding = std::min(span, written);
  return {{sounding, kSounding}, {span - sounding, kEither}};
}

// "the metre runs on", or by how much the next bar line is off: positive = late.
std::string metre_remark(double off_beats, double beats_in_bar) {
  double off = std::fmod(off_beats, beats_in_bar);
  if (off < 0) off += beats_in_bar;
  constexpr double kSame = 1e-6;
  if (off < kSame || beats_in_bar - off < kSame) return "the metre runs on";
  if (off <= beats_in_bar / 2) {
    return fmt::format("next bar line {:.4g} late of the running metre", off);
  }
  return fmt::format("next bar line {:.4g} early of the running metre", beats_in_bar - off);
}

}  // namespace

std::string draw_join(const Join& join, const music::Score& score, BeatUnit beat, Tick last_onset,
                      TickSpan last, Tick next_begin) {
  const auto unit = static_cast<double>(ticks(beat));
  const double span = join_span_beats(join, score, beat, last_onset, last, next_begin);
  const double written = static_cast<double>(last.end - last_onset) / unit;
  const Tick full = full_length(music::bar_at(score, last.end - 1));
  const Tick from = place_in_metre(score, last_onset);
  const Tick next_full = full_length(music::bar_at(score, next_begin));
  const Tick entry = place_in_metre(score, next_begin);

  Row ended(ticks(beat), full, from);
  if (from == 0) ended.mark(kBarLine);
  for (const Stretch& stretch : stretches(join, span, written)) {
    for (int i = 0; i < columns(stretch.beats); ++i) ended.step(stretch.fill);
  }
  Row next(ticks(beat), next_full, entry);
  next.mark(entry == 0 ? std::string(kBarLine) + std::string(kEntry) : std::string(kEntry));
  while (entry > 0 && next.place() < next_full) next.step(kUpbeat);
  if (entry > 0) next.mark(kBarLine);
  next.mark("1");

  const double off = (static_cast<double>(from) - static_cast<double>(entry)) / unit + span;
  return fmt::format("{}{}  {:.4g} {}; {}", ended.take(), next.take(), span,
                     span == 1 ? "beat" : "beats",
                     metre_remark(off, static_cast<double>(full) / unit));
}

}  // namespace loftbeat::plan
