#include "report/card_words.h"

#include <algorithm>
#include <cstdlib>

#include <fmt/format.h>

#include "advise/plan_sentences.h"
#include "plan/read.h"
#include "report/measure_tables.h"

namespace loftbeat::report {
namespace {

using advise::DeskStep;
using advise::Movement;

CardLine strong_line(std::string words) {
  return {std::move(words), kReadingSizeMm, CardWeight::bold};
}
CardLine watch_line(std::string words) {
  return {std::move(words), kWatchSizeMm, CardWeight::normal};
}
CardLine fine_line(std::string words) {
  return {std::move(words), kFineSizeMm, CardWeight::normal};
}

std::string count_of(double beats, const char* one, const char* many) {
  return fmt::format("{:.4g} {}", beats, beats == 1 ? one : many);
}

std::string join_words(const plan::Join& join) {
  if (join.kind == plan::JoinKind::hold_and_lift)
    return fmt::format("hold {:.4g}, lift {:.4g}", join.hold_beats, join.lift_beats);
  if (join.extra_bars == 0) return "by the bar";
  return "by the bar, " + count_of(join.extra_bars, "bar more", "bars more");
}

// Stops of one division share its name: "Great Principal 4, Fifteenth 2".
std::string control_words(const organ::Organ& organ,
                          const std::vector<organ::ConsoleMove>& controls) {
  std::string words;
  std::size_t division = organ.divisions.size();
  for (const organ::ConsoleMove& move : controls) {
    words += words.empty() ? "" : ", ";
    const bool stop = move.what == organ::ConsoleMove::What::stop;
    if (stop && organ.stops[move.index].division == division) {
      words += organ.stops[move.index].name + " " + organ.stops[move.index].pitch;
    } else {
      words += advise::name_of(organ, move);
    }
    division = stop ? organ.stops[move.index].division : organ.divisions.size();
  }
  return words;
}

const char* side_words(organ::Side side) {
  switch (side) {
    case organ::Side::left: return "LEFT";
    case organ::Side::right: return "RIGHT";
    case organ::Side::above: return "ABOVE";
    case organ::Side::unknown: break;
  }
  return "";
}

std::string movement_words(const organ::Organ& organ, const Movement& movement) {
  const std::string names = control_words(organ, movement.controls);
  if (movement.kind == Movement::Kind::thumb_piston) return "THUMB: piston " + names;
  if (movement.kind == Movement::Kind::toe_piston) return "TOE: piston " + names;
  const std::string side = side_words(movement.side);
  return fmt::format("{}{}{}", side, side.empty() ? "" : ": ",
                     (movement.kind == Movement::Kind::draw ? "draw " : "push in ") + names);
}

std::string swell_words(const organ::Organ& organ, const organ::ConsoleMove& swell) {
  if (swell.what == organ::ConsoleMove::What::crescendo)
    return "FOOT: " + advise::describe(organ, swell);
  const std::string box = "FOOT: " + advise::name_of(organ, swell);
  if (swell.value <= 0) return box + " shut";
  if (swell.value >= 1) return box + " open";
  if (swell.value == 0.25) return box + " a quarter open";
  if (swell.value == 0.5) return box + " half open";
  if (swell.value == 0.75) return box + " three quarters open";
  return fmt::format("{} {:.0f} % open", box, 100 * swell.value);
}

// Short words, for the margin.
std::string label_of(const plan::RoutePass& pass) {
  switch (pass.kind) {
    case plan::PassKind::play_over: return "play over";
    case plan::PassKind::interlude: return "between";
    case plan::PassKind::amen: return "Amen";
    case plan::PassKind::verse: break;
  }
  return pass.label;
}

class Writer {
 public:
  explicit Writer(const CardHymn& hymn)
      : hymn_(hymn), context_(*hymn.plan.context), route_(*context_.route) {}

  Card card() {
    card_.title = (hymn_.number.empty() ? "" : hymn_.number + "  ") +
                  (hymn_.plan.title.empty() ? "Untitled hymn" : hymn_.plan.title);
    head();
    for (std::size_t pass = 0; pass < route_.passes.size(); ++pass) add_pass(pass);
    fallback();
    return std::move(card_);
  }

 private:
  void head() {
    const plan::Plan& plan = *context_.plan;
    CardBlock block;
    std::string pace;
    if (const auto tempo = advise::set_tempo(plan, *context_.score))
      pace = fmt::format("{:.4g} a minute", *tempo);
    usual_join_ = plan.join ? join_words(*plan.join) : "";
    if (!usual_join_.empty()) pace += (pace.empty() ? "" : " · ") + usual_join_;
    if (!pace.empty()) block.lines.push_back(strong_line(pace));
    if (!hymn_.before.empty()) block.lines.push_back(watch_line("Before: " + hymn_.before));
    if (!hymn_.plan.drawn.empty()) {
      block.lines.push_back(fine_line(
          "Begin with: " + drawn_words(*context_.console->organ, hymn_.plan.drawn.front())));
    }
    card_.blocks.push_back(std::move(block));
  }

  void add_pass(std::size_t pass) {
    const plan::RoutePass& played = route_.passes[pass];
    CardBlock block;
    block.label = label_of(played);
    const DeskStep* step = pass > 0 ? step_before(pass) : nullptr;
    if (step != nullptr && !step->empty()) add_step(*step, block);
    const std::string how = manner(pass);
    if (!how.empty()) block.lines.push_back(watch_line(how));
    if (block.lines.empty()) {
      const bool known = pass == 0 || context_.console != nullptr;
      block.lines.push_back(watch_line(pass == 0 ? "as drawn" : known ? "nothing moves" : "play"));
    }
    card_.blocks.push_back(std::move(block));
  }

  [[nodiscard]] const DeskStep* step_before(std::size_t pass) const {
    const auto found = std::find_if(hymn_.steps.begin(), hymn_.steps.end(),
                                    [&](const DeskStep& step) { return step.join + 1 == pass; });
    return found == hymn_.steps.end() ? nullptr : &*found;
  }

  void add_step(const DeskStep& step, CardBlock& block) {
    const organ::Organ& organ = *context_.console->organ;
    const std::string helper = context_.plan->helper ? "HELPER " : "";
    if (!step.prepared.empty()) {
      block.lines.push_back(
          watch_line(fmt::format("during {}: set {}", pass_label(route_.passes[step.join]),
                                 control_words(organ, step.prepared))));
    }
    const auto& movements = step.work.movements;
    for (std::size_t i = 0; i < movements.size(); ++i) {
      const std::string number = movements.size() > 1 ? fmt::format("{}. ", i + 1) : "";
      block.lines.push_back(strong_line(number + helper + movement_words(organ, movements[i])));
    }
    for (const organ::ConsoleMove& swell : step.work.swells)
      block.lines.push_back(strong_line(swell_words(organ, swell)));
    const std::string look = look_words(organ, step);
    if (look.empty()) return;
    const std::string when = step.phrase > 0 ? fmt::format("after line {} of {}: ", step.phrase,
                                                           pass_label(route_.passes[step.join]))
                                             : "last line: ";
    block.lines.push_back(watch_line(when + look));
  }

  // Texture, what is left out, the join after it where it differs, a broadening.
  [[nodiscard]] std::string manner(std::size_t pass) const {
    const plan::RoutePass& played = route_.passes[pass];
    if (played.unaccompanied) return "unaccompanied: count";
    std::vector<std::string> parts;
    for (const plan::Texture texture : played.textures) {
      if (texture != plan::Texture::as_written) parts.push_back(plan::to_string(texture));
    }
    if (played.transpose_semitones != 0)
      parts.push_back(
          fmt::format("{:+} {}", played.transpose_semitones,
                      std::abs(played.transpose_semitones) == 1 ? "semitone" : "semitones"));
    if (played.broaden_from) parts.push_back("broaden at the end");
    if (pass < route_.joins.size() && route_.joins[pass].join) {
      const std::string join = join_words(*route_.joins[pass].join);
      if (join != usual_join_) parts.push_back("then " + join);
    }
    return fmt::format("{}", fmt::join(parts, ", "));
  }

  void fallback() {
    bool moves = false;
    std::string right;
    for (const DeskStep& step : hymn_.steps) {
      moves = moves || !step.empty();
      if (!step.put_right_at || !right.empty()) continue;
      right = fmt::format(" The piston before {} puts it right.",
                          pass_label(route_.passes[*step.put_right_at + 1]));
    }
    std::string words =
        moves ? "If a stop goes wrong: keep the beat, play the verse with what sounds."
              : "If you slip: keep the beat, tune and bass first.";
    card_.blocks.push_back({"", {watch_line(words + right)}});
  }

  const CardHymn& hymn_;
  const advise::CheckContext& context_;
  const plan::Route& route_;
  std::string usual_join_;
  Card card_;
};

}  // namespace

std::string step_words(const organ::Organ& organ, const DeskStep& step) {
  std::string words;
  for (const Movement& movement : step.work.movements)
    words += (words.empty() ? "" : "; ") + movement_words(organ, movement);
  for (const organ::ConsoleMove& swell : step.work.swells)
    words += (words.empty() ? "" : "; ") + swell_words(organ, swell);
  return words;
}

std::string look_words(const organ::Organ& organ, const DeskStep& step) {
  if (step.look) return "look " + spot_words(*step.look);
  for (const Movement& movement : step.work.movements) {
    if (movement.kind == Movement::Kind::thumb_piston)
      return "thumb on " + control_words(organ, movement.controls);
    if (movement.kind == Movement::Kind::toe_piston)
      return "toe on " + control_words(organ, movement.controls);
    return "look for " + control_words(organ, {movement.controls.front()});
  }
  if (step.work.swells.empty()) return "";
  const bool crescendo = step.work.swells.front().what == organ::ConsoleMove::What::crescendo;
  return crescendo ? "foot on the crescendo pedal" : "foot on the swell pedal";
}

std::string spot_words(const advise::Spot& spot) {
  const bool tabs = spot.side == organ::Side::above;
  const char* side = spot.side == organ::Side::left    ? "left"
                     : spot.side == organ::Side::right ? "right"
                                                       : "above";
  return fmt::format("{}, row {}, {} {}", side, spot.row, tabs ? "tab" : "knob", spot.place);
}

Card card_of(const CardHymn& hymn) { return Writer(hymn).card(); }

}  // namespace loftbeat::report
