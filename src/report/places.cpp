#include <algorithm>
#include <set>
#include <utility>

#include <fmt/format.h>

#include "plan/read.h"
#include "practice/words.h"
#include "report/numbers.h"
#include "report/summary.h"
#include "report/utf8.h"
#include "report/words.h"

namespace loftbeat::report {
namespace {

// Further than the chord after the planned end.
constexpr double kLongerQuarters = 2;

std::string beats_words(double beats) {
  const std::string text = write_short(beats, kBeats);
  return fmt::format("{} {}", text, text == "1" ? "beat" : "beats");
}

class PassPlaces {
 public:
  PassPlaces(const practice::Review& review, const timing::PassMeasures& measures,
             std::vector<std::string>& lines)
      : review_(review),
        measures_(measures),
        pass_(review.alignment.passes.at(static_cast<std::size_t>(measures.pass))),
        name_(report::pass_name(review, measures.pass)),
        lines_(lines) {}

  void write() {
    texture();
    key();
    extent();
    for (const follow::Restart& restart : pass_.restarts) {
      if (restart.planned) continue;
      if (restart.false_start) {
        add(restart.from, fmt::format("a false start, which cost {}.",
                                      write_number(seconds(restart.lost), kSeconds)));
        continue;
      }
      add(restart.from,
          fmt::format("went back to bar {}, which cost {}.", bar_of(review_, restart.to),
                      write_number(seconds(restart.lost), kSeconds)));
    }
    for (const follow::Omission& omission : pass_.omissions) {
      add(omission.left_out.begin,
          fmt::format("left out up to bar {}.", bar_of(review_, omission.left_out.end)));
    }
    for (const follow::Correction& correction : pass_.corrections) write(correction);
    for (const timing::Hesitation& h : measures_.hesitations) {
      add(h.at, fmt::format("hesitated before beat {}: {} ({}).", write_short(h.beat, kBeats),
                            beats_words(h.extra_beats), write_signed_span(h.extra_ms)));
    }
    std::stable_sort(places_.begin(), places_.end(),
                     [](const auto& a, const auto& b) { return a.first < b.first; });
    for (auto& [tick, line] : places_) lines_.push_back(std::move(line));
  }

 private:
  void add(Tick at, const std::string& what) {
    places_.emplace_back(at, fmt::format("{}, bar {}: {}", name_, bar_of(review_, at), what));
  }

  void write(const follow::Correction& correction) {
    const std::string cost =
        correction.cost.count() == 0
            ? "played on in time"
            : fmt::format("cost {}", write_number(milliseconds(correction.cost), kMs));
    add(correction.tick,
        fmt::format("{} put right to {}, {}.",
                    note_name(correction.wrong_pitch, review_.score, correction.tick),
                    note_name(correction.right_pitch, review_.score, correction.tick), cost));
  }

  // A play-over of other length than planned is followed all the same.
  void extent() {
    if (pass_.route_pass < 0 || pass_.kind != plan::PassKind::play_over) return;
    Tick planned = 0;
    for (const TickSpan& span :
         review_.route.passes.at(static_cast<std::size_t>(pass_.route_pass)).spans) {
      planned += span.length();
    }
    const double quarters = static_cast<double>(planned) / static_cast<double>(kTicksPerQuarter);
    if (pass_.quarters_covered > quarters + kLongerQuarters) {
      lines_.push_back(name_ + ": longer than planned.");
    }
  }

  void texture() {
    if (pass_.route_pass < 0) {
      const bool open = pass_.kind == plan::PassKind::play_over ? !review_.route.play_over_known
                                                                : !review_.route.verses_known;
      if (!open) lines_.push_back(name_ + ": not in the plan.");
      return;
    }
    const auto& planned =
        review_.route.passes.at(static_cast<std::size_t>(pass_.route_pass)).textures;
    if (planned == pass_.textures || planned.empty() || review_.plan.file.empty()) return;
    lines_.push_back(
        fmt::format("{}: played {}; planned {}.", name_, joined(pass_.textures), joined(planned)));
  }

  void key() {
    if (pass_.transpose_semitones == 0) return;
    const int size = std::abs(pass_.transpose_semitones);
    lines_.push_back(fmt::format("{}: {} {} {} than written.", name_, size,
                                 size == 1 ? "semitone" : "semitones",
                                 pass_.transpose_semitones > 0 ? "higher" : "lower"));
  }

  static std::string joined(const std::vector<plan::Texture>& textures) {
    std::string text;
    for (const plan::Texture texture : textures) {
      if (!text.empty()) text += " and ";
      text += practice::texture_name(texture);
    }
    return text.empty() ? "nothing" : text;
  }

  const practice::Review& review_;
  const timing::PassMeasures& measures_;
  const follow::AlignedPass& pass_;
  std::string name_;
  std::vector<std::pair<Tick, std::string>> places_;
  std::vector<std::string>& lines_;
};

// Playing that is not the tune.
std::vector<std::string> aside_lines(const practice::Review& review) {
  std::vector<std::string> lines;
  for (const follow::Aside& aside : review.alignment.asides) {
    const std::string where = aside.after_pass < 0
                                  ? "before the first pass"
                                  : "after " + report::pass_name(review, aside.after_pass);
    lines.push_back(
        fmt::format("{} {}, at {}: {} that are not in the tune.",
                    aside.amen ? "An Amen" : "Playing", where, write_clock(seconds(aside.begin)),
                    aside.notes == 1 ? "one note" : fmt::format("{} notes", aside.notes)));
  }
  return lines;
}

}  // namespace

std::vector<std::string> place_lines(const practice::Review& review) {
  std::vector<std::string> lines = aside_lines(review);
  for (const timing::PassMeasures& measures : review.timing.passes) {
    PassPlaces(review, measures, lines).write();
  }
  return lines;
}

std::vector<std::string> reason_lines(const practice::Review& review) {
  std::vector<std::string> lines;
  std::set<std::string> seen;
  const auto add = [&](const char* what, bool known, const std::string& reason) {
    if (known) return;
    std::string line = fmt::format("{}: {}.", what, clean_text(reason));
    if (seen.insert(line).second) lines.push_back(std::move(line));
  };
  for (const timing::PassMeasures& pass : review.timing.passes) {
    add("tempo", bool(pass.tempo_bpm), pass.tempo_bpm.reason);
    add("trend", bool(pass.trend_percent), pass.trend_percent.reason);
    add("drift at the end", bool(pass.end_drift_ms), pass.end_drift_ms.reason);
    add("steadiness", bool(pass.steadiness_percent), pass.steadiness_percent.reason);
    add("feet to hands", bool(pass.pedal_lag), pass.pedal_lag.reason);
  }
  for (const timing::JoinMeasures& join : review.timing.joins) {
    add("a join", join.why.empty(), join.why);
    add("hold", bool(join.hold_beats), join.hold_beats.reason);
    add("lift", bool(join.lift_beats), join.lift_beats.reason);
    add("count", bool(join.count_error_beats), join.count_error_beats.reason);
    add("phase", bool(join.phase_error_ms), join.phase_error_ms.reason);
  }
  return lines;
}

}  // namespace loftbeat::report
