#include "crowd/sung_pass.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace loftbeat::crowd {
namespace {

double beats_of(Tick ticks, Tick beat) {
  return static_cast<double>(ticks) / static_cast<double>(beat);
}

// Closer than this two knots are one, beats.
constexpr double kSamePlace = 0.1;

class Layout {
 public:
  Layout(const music::Score& score, const plan::Route& route, const plan::RoutePass& pass,
         plan::BeatUnit beat)
      : score_(score), route_(route), pass_(pass) {
    laid_.spans = pass.spans;
    laid_.beat_ticks = plan::ticks(beat);
  }

  SungPass lay() {
    for (const TickSpan& span : pass_.spans) {
      span_ = span;
      add_notes();
      add_knots();
      add_holds();
      laid_.length += beats_of(span.length(), laid_.beat_ticks);
    }
    std::sort(laid_.onsets.begin(), laid_.onsets.end());
    join_knots();
    mark_breaths();
    return laid_;
  }

 private:
  [[nodiscard]] double place(Tick tick) const {
    return laid_.length + beats_of(tick - span_.begin, laid_.beat_ticks);
  }

  [[nodiscard]] const std::vector<music::Phrase>& phrases() const {
    return route_.phrases.empty() ? score_.phrases : route_.phrases;
  }

  void add_notes() {
    for (const music::Note& note : score_.notes) {
      if (!span_.contains(note.onset)) continue;
      const double at = place(note.onset);
      if (laid_.onsets.empty() || laid_.onsets.back() < at) laid_.onsets.push_back(at);
      if (note.voice != 0) continue;
      SungNote sung;
      sung.at = at;
      sung.end = place(std::min(note.onset + note.length, span_.end));
      sung.pitch = std::clamp(note.pitch + pass_.transpose_semitones, 0, 127);
      // Of a chord in the topmost voice the highest note is sung: notes come by pitch upwards.
      if (!laid_.notes.empty() && laid_.notes.back().at >= at) laid_.notes.pop_back();
      if (!laid_.notes.empty()) laid_.notes.back().end = std::min(laid_.notes.back().end, at);
      laid_.notes.push_back(sung);
    }
  }

  void add_knots() {
    knots_.push_back({place(span_.begin), span_.begin, false, true});
    for (const music::Bar& bar : score_.bars) {
      const Tick end = bar.start + bar.length;
      // The beats of a pickup bar count back from its end.
      Tick at = bar.pickup ? bar.start + bar.length % laid_.beat_ticks : bar.start;
      for (; at < end; at += laid_.beat_ticks)
        if (span_.contains(at)) knots_.push_back({place(at), at, true, false});
    }
    for (const music::Phrase& phrase : phrases()) {
      const Tick at = phrase.span.begin;
      if (span_.contains(at)) knots_.push_back({place(at), at, false, true});
    }
  }

  void add_holds() {
    for (const plan::PlannedHold& hold : route_.holds) {
      if (hold.until <= span_.begin || !span_.contains(hold.until)) continue;
      knots_.push_back({place(hold.until), hold.until, false, false});
      laid_.hold_ends.push_back(place(hold.until));
    }
  }

  void join_knots() {
    std::stable_sort(knots_.begin(), knots_.end(),
                     [](const Knot& a, const Knot& b) { return a.at < b.at; });
    for (const Knot& knot : knots_) {
      if (laid_.knots.empty() || knot.at - laid_.knots.back().at > kSamePlace) {
        laid_.knots.push_back(knot);
        continue;
      }
      laid_.knots.back().beat = laid_.knots.back().beat || knot.beat;
      laid_.knots.back().phrase = laid_.knots.back().phrase || knot.phrase;
    }
  }

  void mark_breaths() {
    for (std::size_t i = 0; i < laid_.notes.size(); ++i) {
      const bool last = i + 1 == laid_.notes.size();
      const double next = last ? laid_.length : laid_.notes[i + 1].at;
      laid_.notes[i].breath =
          last || std::any_of(laid_.knots.begin(), laid_.knots.end(), [&](const Knot& knot) {
            return knot.phrase && knot.at > laid_.notes[i].at && knot.at <= next + kSamePlace;
          });
    }
  }

  const music::Score& score_;
  const plan::Route& route_;
  const plan::RoutePass& pass_;
  TickSpan span_;
  SungPass laid_;
  std::vector<Knot> knots_;
};

}  // namespace

std::optional<double> SungPass::place_of(Tick tick, double near) const {
  std::optional<double> best;
  double begin = 0;
  for (const TickSpan& span : spans) {
    if (span.contains(tick)) {
      const double place = begin + beats_of(tick - span.begin, beat_ticks);
      if (!best || std::abs(place - near) < std::abs(*best - near)) best = place;
    }
    begin += beats_of(span.length(), beat_ticks);
  }
  return best;
}

double SungPass::onset_after(double at) const {
  const auto next = std::upper_bound(onsets.begin(), onsets.end(), at + 1e-9);
  return next == onsets.end() ? length : *next;
}

bool alike(const music::Score& score, const plan::Route& route, Tick phrase, Tick other) {
  const auto tune_of = [&](Tick begin) {
    std::vector<std::pair<Tick, int>> tune;
    for (const music::Phrase& one : route.phrases.empty() ? score.phrases : route.phrases) {
      if (one.span.begin != begin) continue;
      for (const music::Note& note : score.notes)
        if (note.voice == 0 && one.span.contains(note.onset))
          tune.emplace_back(note.onset - begin, note.pitch);
    }
    return tune;
  };
  const auto tune = tune_of(phrase);
  return !tune.empty() && tune == tune_of(other);
}

SungPass sung_pass(const music::Score& score, const plan::Route& route, const plan::RoutePass& pass,
                   plan::BeatUnit beat) {
  return Layout(score, route, pass, beat).lay();
}

}  // namespace loftbeat::crowd
