#include "app/place_words.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "plan/route.h"
#include "report/card_words.h"
#include "report/utf8.h"

namespace loftbeat::app {
namespace {

std::string pass_words(const live::NowPlaying& now) {
  if (now.pass.empty()) return "";
  const bool number = now.pass.front() >= '0' && now.pass.front() <= '9';
  return number ? "verse " + now.pass : now.pass;
}

// What comes at the join after this pass.
void add_join(const ListenWork& work, const live::NowPlaying& now, PlaceWords& words) {
  if (now.coming_join < 0) return;
  const auto& join = work.checked.planned.route.joins[static_cast<std::size_t>(now.coming_join)];
  if (now.in_join && join.join && join.join->kind == plan::JoinKind::hold_and_lift)
    words.hold =
        fmt::format("hold {:.4g}, lift {:.4g}", join.join->hold_beats, join.join->lift_beats);
  if (work.organ() == nullptr) return;
  for (const advise::DeskStep& step : work.steps) {
    if (step.join != static_cast<std::size_t>(now.coming_join)) continue;
    words.step = report::step_words(*work.organ(), step);
    if (now.last_phrase && !now.in_join) words.look = report::look_words(*work.organ(), step);
  }
  if (words.step.empty()) words.step = "no stop moves";
}

int beats_of_bar(const ListenWork& work, const std::string& number) {
  const music::Score& score = work.checked.planned.score;
  const Tick beat = plan::ticks(work.checked.planned.plan.beat);
  for (const music::Bar& bar : score.bars)
    if (bar.number == number)  // an upbeat's bar is counted as if it were whole
      return static_cast<int>((bar.beats * (4 * kTicksPerQuarter / bar.beat_type) + beat - 1) /
                              beat);
  return 0;
}

}  // namespace

PlaceWords place_of(const ListenWork& work, const live::NowPlaying& now) {
  PlaceWords words;
  if (!now.begun) return words;
  words.pass = pass_words(now);
  words.in_tune = now.in_tune;
  if (!now.in_tune) return words;
  const auto& route = work.checked.planned.route;
  words.line = now.phrase;
  words.lines = static_cast<int>(route.phrases.empty() ? work.checked.planned.score.phrases.size()
                                                       : route.phrases.size());
  words.bar = report::clean_text(now.bar);
  words.beat = static_cast<int>(std::floor(now.beat + 1e-6));
  words.beats = std::max(beats_of_bar(work, now.bar), words.beat);
  if (now.behind_seconds) words.behind_ms = 1000 * *now.behind_seconds;
  words.at_join = now.in_join;
  add_join(work, now, words);
  return words;
}

std::string behind_words(double behind_ms) {
  constexpr double kHardlyHeard = 20;
  if (std::abs(behind_ms) < kHardlyHeard) return "on the beat";
  return fmt::format("{:.0f} ms {}", std::abs(behind_ms), behind_ms > 0 ? "behind" : "ahead");
}

}  // namespace loftbeat::app
