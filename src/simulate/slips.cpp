#include "simulate/slips.h"

#include <algorithm>
#include <map>
#include <tuple>

namespace loftbeat::simulate {
namespace {

constexpr double kTrillNotesPerSecond = 9;
constexpr int kSlipLine = 30;  // slips end by themselves

class Slips {
 public:
  Slips(const Stage& stage, PlayedAct& played)
      : stage_(stage),
        played_(played),
        habit_(stage.player.slip),
        random_(stream_for(stage, played, "slips")),
        repeats_(stream_for(stage, played, "repeats")) {}

  void run() {
    hold_repeats();
    std::vector<Stroke> kept;
    for (const Stroke& stroke : played_.strokes) one(stroke, kept);
    played_.strokes = std::move(kept);
  }

 private:
  // Repeated notes that are held on: the earlier stroke takes over the later one's length.
  void hold_repeats() {
    std::map<int, std::size_t> last;  // by line
    std::vector<Stroke> kept;
    for (const Stroke& stroke : played_.strokes) {
      const bool drawn = repeats_.chance(played_.act.unstruck_share);
      const auto before = last.find(stroke.line);
      if (before != last.end()) {
        Stroke& earlier = kept[before->second];
        const bool repeats = earlier.leg == stroke.leg && earlier.pitch == stroke.pitch &&
                             earlier.end == stroke.tick;
        if (repeats && drawn) {
          earlier.end = stroke.end;
          if (stroke.score >= 0) played_.held.push_back(stroke.score);
          continue;
        }
      }
      last[stroke.line] = kept.size();
      kept.push_back(stroke);
    }
    played_.strokes = std::move(kept);
  }

  [[nodiscard]] std::vector<int> chord_at(const Stroke& at) const {
    std::vector<int> chord = stage_.harmony.sounding(at.tick);
    for (int& pitch : chord) pitch += played_.act.transpose;
    const auto& strokes = played_.strokes;
    auto s =
        std::lower_bound(strokes.begin(), strokes.end(), at, [](const Stroke& a, const Stroke& b) {
          return std::tie(a.leg, a.tick) < std::tie(b.leg, b.tick);
        });
    for (; s != strokes.end() && s->leg == at.leg && s->tick == at.tick; ++s) {
      chord.push_back(s->pitch);
    }
    return chord;
  }

  [[nodiscard]] double written_seconds(const Stroke& stroke) const {
    const TimeMap& map = played_.times.legs[stroke.leg];
    return map.sound_end(stroke.end) - map.onset(stroke.tick);
  }

  // All chances are drawn for each note, so that raising one leaves the others' choices alone.
  void one(const Stroke& stroke, std::vector<Stroke>& kept) {
    const bool wrong = random_.chance(habit_.wrong);
    const bool missed = random_.chance(habit_.missed);
    const bool extra = random_.chance(habit_.extra);
    const bool doubled = random_.chance(habit_.doubled);
    const bool trill = random_.chance(habit_.trill);
    const ActCorrection* correction = correction_at(stroke);
    if (correction != nullptr) {
      correct(stroke, kept);
    } else if (missed && stroke.score >= 0) {
      return;
    } else if (wrong && stroke.score >= 0) {
      kept.push_back(wrong_for(stroke));
    } else if (doubled && stroke.score >= 0 && written_seconds(stroke) > 0.4) {
      bounce(stroke, kept);
    } else if (trill && stroke.voice == 0 && long_enough(stroke)) {
      play_trill(stroke, kept);
    } else {
      kept.push_back(stroke);
    }
    if (extra) kept.push_back(slip_beside(stroke));
  }

  [[nodiscard]] const ActCorrection* correction_at(const Stroke& stroke) const {
    if (stroke.voice != 0 || stroke.leg + 1 != played_.act.legs.size()) return nullptr;
    for (const ActCorrection& correction : played_.act.corrections) {
      if (correction.tick == stroke.tick) return &correction;
    }
    return nullptr;
  }

  Stroke wrong_for(const Stroke& stroke) {
    Stroke wrong = stroke;
    wrong.kind = NoteKind::wrong;
    wrong.meant = stroke.score;
    wrong.score = -1;
    wrong.pitch = wrong_pitch(stroke.pitch, chord_at(stroke), random_);
    return wrong;
  }

  void correct(const Stroke& stroke, std::vector<Stroke>& kept) {
    const double whole = written_seconds(stroke);
    const double after = std::min(0.45 * whole, 0.5);
    Stroke wrong = wrong_for(stroke);
    wrong.line = kSlipLine;
    wrong.lasts_s = after - 0.04;
    kept.push_back(wrong);
    Stroke right = stroke;
    right.after_s = after;
    right.corrected = true;
    kept.push_back(right);
  }

  void bounce(const Stroke& stroke, std::vector<Stroke>& kept) {
    Stroke first = stroke;
    first.line = kSlipLine;
    first.lasts_s = random_.between(0.05, 0.09);
    Stroke again = stroke;
    again.kind = NoteKind::doubled;
    again.meant = stroke.score;
    again.score = -1;
    again.after_s = first.lasts_s + random_.between(0.03, 0.06);
    kept.push_back(first);
    kept.push_back(again);
  }

  [[nodiscard]] bool long_enough(const Stroke& stroke) const {
    return stroke.end - stroke.tick >= plan::ticks(stage_.piece.plan.beat) &&
           written_seconds(stroke) > 0.5;
  }

  void play_trill(const Stroke& stroke, std::vector<Stroke>& kept) {
    const double each = 1 / kTrillNotesPerSecond;
    const int count = 2 * static_cast<int>(0.8 * written_seconds(stroke) / each / 2);
    const int upper = stroke.pitch + (random_.chance(0.5) ? 1 : 2);
    for (int i = 0; i <= count; ++i) {
      Stroke note = stroke;
      if (i > 0) {
        note.kind = NoteKind::ornament;
        note.score = -1;
        note.after_s = each * i;
      }
      note.pitch = i % 2 == 0 ? stroke.pitch : upper;
      if (i < count) {
        note.line = kSlipLine;
        note.lasts_s = each * 0.9;
      }
      kept.push_back(note);
    }
  }

  Stroke slip_beside(const Stroke& stroke) {
    Stroke slip = stroke;
    slip.kind = NoteKind::extra;
    slip.score = slip.meant = slip.voice = -1;
    slip.line = kSlipLine;
    slip.pitch = wrong_pitch(stroke.pitch, chord_at(stroke), random_);
    slip.after_s = random_.between(0.0, 0.7) * written_seconds(stroke);
    slip.lasts_s = random_.between(0.06, 0.25);
    return slip;
  }

  const Stage& stage_;
  PlayedAct& played_;
  const SlipHabit& habit_;
  Random random_, repeats_;
};

}  // namespace

void slip(const Stage& stage, PlayedAct& played) {
  if (played.act.sounds) Slips(stage, played).run();
}

}  // namespace loftbeat::simulate
