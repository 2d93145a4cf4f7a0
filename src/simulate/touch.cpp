#include "simulate/touch.h"

#include <algorithm>
#include <map>

namespace loftbeat::simulate {
namespace {

constexpr double kMs = 1e-3;
constexpr double kShortestNote = 0.03;
constexpr int kSlipLine = 30;

class Touch {
 public:
  Touch(const Stage& stage, PlayedAct& played)
      : stage_(stage),
        played_(played),
        onset_(stream_for(stage, played, "onsets")),
        notes_(stream_for(stage, played, "notes")),
        spread_(stream_for(stage, played, "spread")),
        release_(stream_for(stage, played, "releases")),
        smear_(stream_for(stage, played, "smear")) {}

  void run() {
    auto& strokes = played_.strokes;
    for (std::size_t i = 0; i < strokes.size();) {
      std::size_t end = i;
      while (end < strokes.size() && strokes[end].leg == strokes[i].leg &&
             strokes[end].tick == strokes[i].tick) {
        ++end;
      }
      strike(i, end);
      i = end;
    }
    keep_order();
    release_all();
  }

 private:
  void strike(std::size_t begin, std::size_t end) {
    const OnsetHabit& habit = stage_.player.onset;
    const Stroke& first = played_.strokes[begin];
    const double beat = played_.times.legs[first.leg].onset(first.tick);
    const double chord = beat + kMs * onset_.human(habit.jitter_ms);
    const bool rolled = spread_.chance(habit.arpeggio_share);
    const std::vector<double> places = spread_out(begin, end, rolled);
    for (std::size_t i = begin; i < end; ++i) {
      Stroke& stroke = played_.strokes[i];
      double lag = 0;
      if (stroke.limb == Limb::feet) lag = played_.act.pedal_lag_ms;
      if (stroke.limb == Limb::left_hand) lag = played_.act.left_lag_ms;
      stroke.intended = beat;
      stroke.on = chord + places[i - begin] + kMs * (lag + notes_.human(habit.note_jitter_ms)) +
                  stroke.after_s;
    }
  }

  // Where the chord's notes lie round its place, in seconds.
  std::vector<double> spread_out(std::size_t begin, std::size_t end, bool rolled) {
    const OnsetHabit& habit = stage_.player.onset;
    const double width = kMs * (rolled ? habit.arpeggio_ms : habit.spread_ms);
    std::vector<std::pair<int, std::size_t>> order;
    for (std::size_t i = begin; i < end; ++i) order.emplace_back(played_.strokes[i].pitch, i);
    std::sort(order.begin(), order.end());
    if (!rolled && habit.spread == SpreadKind::rolled_down) {
      std::reverse(order.begin(), order.end());
    }
    std::vector<double> places(end - begin, 0.0);
    for (std::size_t k = 0; k < order.size(); ++k) {
      const double even =
          order.size() < 2 ? 0.5 : static_cast<double>(k) / static_cast<double>(order.size() - 1);
      const double drawn = spread_.uniform();
      const bool random = !rolled && habit.spread == SpreadKind::random;
      places[order[k].second - begin] = width * ((random ? drawn : even) - 0.5);
    }
    return places;
  }

  // A finger cannot strike its next note before the one it is on.
  void keep_order() {
    std::map<int, double> last;
    for (Stroke& stroke : played_.strokes) {
      if (stroke.line >= kSlipLine) continue;
      const auto before = last.find(stroke.line);
      if (before != last.end()) stroke.on = std::max(stroke.on, before->second + kShortestNote);
      last[stroke.line] = stroke.on;
    }
  }

  void release_all() {
    auto& strokes = played_.strokes;
    std::map<int, std::size_t> next;  // by line: the stroke after this one
    for (std::size_t i = strokes.size(); i-- > 0;) {
      Stroke& stroke = strokes[i];
      const auto found = stroke.line < kSlipLine ? next.find(stroke.line) : next.end();
      const Stroke* follower = found == next.end() ? nullptr : &strokes[found->second];
      stroke.off = std::max(released(stroke, follower), stroke.on + kShortestNote);
      next[stroke.line] = i;
    }
  }

  double released(const Stroke& stroke, const Stroke* next) {
    const bool smears = smear_.chance(played_.act.smear_share);
    const double human = kMs * release_.human(1.0);
    const ReleaseHabit& habit = stage_.player.release;
    if (stroke.lasts_s > 0) return stroke.on + stroke.lasts_s;
    const double apart = human * (habit.together_ms + played_.act.ragged_ms);
    if (ends_act(stroke)) return final_release() + apart;
    const bool follows = next != nullptr && next->leg == stroke.leg && next->tick == stroke.end &&
                         !keys_up_after(stroke);
    const double smear =
        smears && follows && next->pitch != stroke.pitch ? kMs * played_.act.smear_ms : 0;
    if (const double early = breath_seconds(stroke); early >= 0 && smear == 0) {
      return sound_end(stroke) - early + apart;
    }
    if (!follows) return sound_end(stroke) + apart;
    if (smear > 0) return next->on + smear;
    if (next->pitch == stroke.pitch) return next->on - repeat_gap(stroke, *next);
    return next->on + kMs * habit.overlap_ms + human * habit.overlap_jitter_ms;
  }

  // Time without keys lies between this stroke's end and the next onset.
  [[nodiscard]] bool keys_up_after(const Stroke& stroke) const {
    const TimeMap& map = played_.times.legs[stroke.leg];
    return map.onset(stroke.end) - map.sound_end(stroke.end) > 1e-6;
  }

  [[nodiscard]] double repeat_gap(const Stroke& stroke, const Stroke& next) const {
    const double whole = next.on - stroke.on;
    return std::min(kMs * stage_.player.release.repeat_gap_ms, 0.4 * whole);
  }

  [[nodiscard]] double sound_end(const Stroke& stroke) const {
    return played_.times.legs[stroke.leg].sound_end(stroke.end);
  }

  // Ends with the pass, or with a leg after which the player stops to go back.
  [[nodiscard]] bool ends_act(const Stroke& stroke) const {
    if (played_.act.improvised_beats > 0) {
      const Tick beat = plan::ticks(stage_.piece.plan.beat);
      return stroke.end >= static_cast<Tick>(played_.act.improvised_beats) * beat;
    }
    return stroke.leg + 1 == played_.act.legs.size() &&
           stroke.end >= played_.act.legs.back().span.end;
  }

  [[nodiscard]] double final_release() const {
    const Gap& gap = played_.act.after;
    if (played_.act.improvised_beats > 0) {
      const double sounds = std::max(1.0, played_.act.improvised_beats - 0.5);
      return played_.times.start_s + sounds * played_.times.end_beat_s;
    }
    double hold = gap.hold_beats;
    if (gap.count_slip > 0) hold += gap.count_slip;
    // An early entry robs the silence first, then the chord.
    const double span = std::max(0.4, gap.span_beats + gap.count_slip + gap.phase_slip);
    hold = std::min(hold, std::max(0.6 * span, span - 0.5));
    return played_.times.last_onset_s + hold * played_.times.end_beat_s;
  }

  // How early a phrase's last notes are let go; negative where no phrase ends.
  [[nodiscard]] double breath_seconds(const Stroke& stroke) const {
    const PhraseHabit& habit = stage_.player.phrase;
    if (habit.breath == BreathKind::none) return -1;
    const auto& phrases = played_.phrase_ends;
    if (!std::binary_search(phrases.begin(), phrases.end(), stroke.end)) return -1;
    if (habit.breath == BreathKind::added) return 0;
    const double whole = sound_end(stroke) - stroke.on;
    return std::min(habit.breath_beats * played_.times.end_beat_s, 0.5 * whole);
  }

  const Stage& stage_;
  PlayedAct& played_;
  Random onset_, notes_, spread_, release_, smear_;
};

}  // namespace

void touch(const Stage& stage, PlayedAct& played) {
  if (!played.act.sounds) return;
  for (const TickSpan& phrase : phrases_of(stage.piece)) {
    played.phrase_ends.push_back(phrase.end);
  }
  std::sort(played.phrase_ends.begin(), played.phrase_ends.end());
  Touch(stage, played).run();
  for (Stroke& stroke : played.strokes) {
    if (stroke.lasts_s == 0) continue;
    stroke.off = std::max(stroke.off, stroke.on + kShortestNote);
  }
}

}  // namespace loftbeat::simulate
