#include "plan/places.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "plan/words.h"

namespace loftbeat::plan {
namespace {

using music::Bar;
using music::Score;

auto first_note_from(const Score& score, Tick at) {
  return std::lower_bound(score.notes.begin(), score.notes.end(), at,
                          [](const music::Note& note, Tick t) { return note.onset < t; });
}

// The end of a bar of the score that exists, for "it has bars 0 to 16".
std::string bars_there(const Score& score) {
  return fmt::format("The score has bars {} to {}.", score.bars.front().number,
                     score.bars.back().number);
}

// -1 if the bar has no such beat.
Tick tick_in_bar(const Bar& bar, BeatUnit beat, double number) {
  if (!std::isfinite(number) || number < 0 || number > 10 * kMostBeatInBar) return -1;
  const Tick missing = bar.pickup ? full_length(bar) - bar.length : 0;
  const auto offset =
      static_cast<Tick>(std::llround((number - 1.0) * static_cast<double>(ticks(beat)))) - missing;
  return offset < 0 || offset >= bar.length ? -1 : bar.start + offset;
}

// Adds the beginning of the tune; a first phrase stated at the first full bar includes the upbeat.
void begin_with_score(std::vector<Tick>& starts, const Score& score) {
  std::sort(starts.begin(), starts.end());
  starts.erase(std::unique(starts.begin(), starts.end()), starts.end());
  const Bar& first = score.bars.front();
  const Tick full_bar = first.pickup ? first.start + first.length : first.start;
  if (!starts.empty() && starts.front() <= full_bar) {
    starts.front() = 0;
  } else {
    starts.insert(starts.begin(), 0);
  }
}

void set_rule(std::vector<HoldRule>& holds, Tick at, const FermataRule& rule) {
  const auto found =
      std::find_if(holds.begin(), holds.end(), [&](const HoldRule& hold) { return hold.at == at; });
  if (found != holds.end()) {
    found->rule = rule;
  } else {
    holds.push_back({at, rule});
  }
}

}  // namespace

Tick full_length(const Bar& bar) {
  return std::max<Tick>(1, 4 * kTicksPerQuarter * bar.beats / std::max(bar.beat_type, 1));
}

Tick place_in_metre(const Score& score, Tick at) {
  const Bar& bar = music::bar_at(score, at);
  return at - bar.start + (bar.pickup ? full_length(bar) - bar.length : 0);
}

Error plan_error(const std::string& plan_file, int line, std::string message, std::string hint) {
  return Error{ErrorKind::no_fit, std::move(message), plan_file, line, 0, std::move(hint)};
}

Result<std::vector<Tick>> find_place(const Score& score, BeatUnit beat, const Place& place,
                                     const std::string& plan_file) {
  std::vector<Tick> found;
  bool bar_found = false;
  for (const Bar& bar : score.bars) {
    if (bar.number != place.bar) continue;
    bar_found = true;
    const Tick at = tick_in_bar(bar, beat, place.beat);
    if (at >= 0) found.push_back(at);
  }
  if (!found.empty()) return found;
  if (!bar_found) {
    return plan_error(plan_file, place.line,
                      fmt::format("bar {} is not in the score.", toml_text(place.bar)),
                      bars_there(score));
  }
  return plan_error(plan_file, place.line,
                    fmt::format("bar {} of the score has no beat {}.", place.bar, place.beat),
                    "Beats are the plan's own; an upbeat counts back from its bar line.");
}

Result<std::vector<music::Phrase>> find_phrases(const Plan& plan, const Score& score) {
  if (plan.phrase_starts.empty()) return score.phrases;
  std::vector<Tick> starts;
  for (const Place& place : plan.phrase_starts) {
    const auto found = find_place(score, plan.beat, place, plan.file);
    if (!found) return found.error();
    starts.insert(starts.end(), found->begin(), found->end());
  }
  begin_with_score(starts, score);
  std::vector<music::Phrase> phrases;
  for (std::size_t i = 0; i < starts.size(); ++i) {
    const Tick end = i + 1 < starts.size() ? starts[i + 1] : score.length;
    phrases.push_back({{starts[i], end}});
  }
  return phrases;
}

Result<std::vector<HoldRule>> find_holds(const Plan& plan, const Score& score) {
  std::vector<HoldRule> holds;
  for (const music::Fermata& sign : score.fermatas) {
    if (holds.empty() || holds.back().at != sign.at) holds.push_back({sign.at, plan.fermata});
  }
  for (const auto& [place, rule] : plan.fermatas) {
    const auto found = find_place(score, plan.beat, place, plan.file);
    if (!found) return found.error();
    for (const Tick at : *found) {
      const auto note = first_note_from(score, at);
      if (note == score.notes.end() || note->onset != at) {
        return plan_error(plan.file, place.line,
                          fmt::format("no note begins at bar {}, beat {}.", place.bar, place.beat),
                          "Name the place where the held note begins.");
      }
      set_rule(holds, at, rule);
    }
  }
  const Tick last = last_onset_in(score, {0, score.length});
  std::erase_if(holds, [&](const HoldRule& hold) {
    return hold.rule.kind == FermataKind::sign_only || hold.at >= last;
  });
  std::sort(holds.begin(), holds.end(),
            [](const HoldRule& a, const HoldRule& b) { return a.at < b.at; });
  return holds;
}

Tick last_onset_in(const Score& score, TickSpan span) {
  const auto after = first_note_from(score, span.end);
  if (after == score.notes.begin() || std::prev(after)->onset < span.begin) return -1;
  return std::prev(after)->onset;
}

Tick first_onset_in(const Score& score, TickSpan span) {
  const auto first = first_note_from(score, span.begin);
  if (first == score.notes.end() || first->onset >= span.end) return -1;
  return first->onset;
}

}  // namespace loftbeat::plan
