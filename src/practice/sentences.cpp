#include "practice/sentences.h"

#include <cmath>

#include <fmt/format.h>

#include "plan/read.h"
#include "practice/words.h"

namespace loftbeat::practice {

namespace {

// "Verse 2", or "The play-over and verses 1, 3 and 4" where several were concerned.
std::string who(const Review& review, const Finding& f) {
  return sentence_case(f.passes.size() > 1 ? pass_names(review, f.passes)
                                           : pass_name(review, f.pass));
}
const char* was(const Finding& f) { return f.passes.size() > 1 ? "were" : "was"; }

std::string bar_of(const Finding& f) { return f.bar == "0" ? "the upbeat" : "bar " + f.bar; }

// "bar 7 of verse 2", or "bar 7, in 3 verses".
std::string where(const Review& review, const Finding& f) {
  if (f.verses_affected > 1) return fmt::format("{}, in {} passes", bar_of(f), f.verses_affected);
  return fmt::format("{} of {}", bar_of(f), pass_name(review, f.pass));
}

std::string joins_concerned(const Review& review, const Finding& f) {
  std::string name = "The join " + join_name(review, f.join);
  if (f.verses_affected > 1) name += fmt::format(" (and {} more)", f.verses_affected - 1);
  return name;
}

double played_bpm(const Review& review, int pass) {
  return review.timing.passes[static_cast<std::size_t>(pass)].tempo_bpm.value.value_or(0);
}

// The set tempo meant for another note value makes everything twice or half as quick.
bool is_another_beat(double percent) {
  const double ratio = 1 + percent / 100;
  return std::abs(ratio - 2) < 0.16 || std::abs(ratio - 0.5) < 0.04;
}

std::string say_tempo(const Review& review, const Finding& f) {
  if (is_another_beat(f.figure)) {
    return fmt::format(
        "{} went at {} the set speed: if that was right, the beat is another note value than the "
        "{} that is set (--beat, or `beat` in the plan).",
        who(review, f), f.figure > 0 ? "twice" : "half", plan::to_string(review.plan.beat));
  }
  return fmt::format(
      "{} went {:.0f} beats a minute where {:.0f} are set, {} percent {}: hear the first line at "
      "the set speed before you begin.",
      who(review, f), played_bpm(review, f.pass), review.plan.tempo_bpm, figure_text(f.figure),
      f.figure > 0 ? "quicker" : "slower");
}

std::string say_trend(const Review& review, const Finding& f) {
  return fmt::format(
      "{} {} by {} percent from its first third to its last: play the last two lines with a click, "
      "then without.",
      who(review, f), f.figure < 0 ? "slowed" : "quickened", figure_text(f.figure));
}

std::string say_unsteady(const Review& review, const Finding& f) {
  return fmt::format(
      "The beats of {} varied by {} percent: play it slower with a click until each beat sits, "
      "then "
      "bring the speed back.",
      f.verses_affected > 1 ? fmt::format("{} passes", f.verses_affected)
                            : pass_name(review, f.pass),
      figure_text(f.figure));
}

std::string say_hesitation(const Review& review, const Finding& f) {
  return fmt::format(
      "You waited {} in {}: take that bar and the one before it as one piece, slowly, and do not "
      "stop for what goes wrong.",
      beats_text(f.figure), where(review, f));
}

std::string say_join(const Review& review, const Finding& f) {
  const std::string name = joins_concerned(review, f);
  const std::string by = beats_text(f.figure);
  switch (f.kind) {
    case FindingKind::join_early:
      return fmt::format(
          "{} came {} early and robbed the breath: count the last chord and the "
          "silence aloud.",
          name, by);
    case FindingKind::join_late:
      return fmt::format(
          "{} came {} late: keep counting through the last chord, and go on with the "
          "beat that you left.",
          name, by);
    case FindingKind::join_miscounted:
      return fmt::format("{} was {} too {}, though the pulse held: count the last chord aloud.",
                         name, by, f.figure > 0 ? "long" : "short");
    default:
      return fmt::format(
          "{} was {} {} than the first: singers breathe by the first one, so make "
          "them alike.",
          name, by, f.figure > 0 ? "longer" : "shorter");
  }
}

std::string say_play_over(const Review& review, const Finding& f) {
  switch (f.kind) {
    case FindingKind::play_over_slowing:
      return fmt::format(
          "The play-over slowed by {} percent at its end: people take their speed "
          "from it, so play its last bar straight into the verse.",
          figure_text(f.figure));
    case FindingKind::play_over_timid:
      return fmt::format(
          "The play-over was struck {} percent softer than {}, by touch: give it the strength "
          "that you want to hear back.",
          figure_text(f.figure), pass_name(review, review.timing.play_over->verse));
    default:
      return fmt::format(
          "The play-over was {} percent {} than {} then went: settle the speed of the "
          "verse in your head first.",
          figure_text(f.figure), f.figure > 0 ? "quicker" : "slower",
          pass_name(review, review.timing.play_over->verse));
  }
}

std::string say_limbs(const Review& review, const Finding& f) {
  const timing::PassMeasures& pass = review.timing.passes[static_cast<std::size_t>(f.pass)];
  const bool feet_seen = pass.feet == timing::FeetSource::pedal_channel;
  const std::string side = f.figure > 0 ? "behind" : "before";
  if (f.kind == FindingKind::hands_apart)
    return fmt::format(
        "{}: the left hand came {} ms {} the right: play the hands together slowly, "
        "listening to the lower one.",
        who(review, f), figure_text(f.figure), side);
  return fmt::format("{}: {} came {} ms {} the hands: practise left hand and {} alone together.",
                     who(review, f), feet_seen ? "the feet" : "the bass", figure_text(f.figure),
                     side, feet_seen ? "pedal" : "bass");
}

std::string say_releases(const Review& review, const Finding& f) {
  switch (f.kind) {
    case FindingKind::smear:
      return fmt::format(
          "{}: keys stayed down about {} ms into the next note: let each note go as "
          "the next one speaks.",
          who(review, f), figure_text(f.figure));
    case FindingKind::repeats_unstruck:
      return fmt::format(
          "{}: {:.0f} repeated notes of the tune were held on: strike them again, "
          "with a short silence before each.",
          who(review, f), f.figure);
    case FindingKind::sustain_pedal:
      return fmt::format(
          "{}: the sustain pedal was down for {} percent of the time: pipes do not "
          "know it, so bind the notes with the fingers.",
          who(review, f), figure_text(f.figure));
    default:
      return fmt::format(
          "{}: the voices left {} ms apart at the ends of phrases: lift all of them "
          "together, on a counted beat.",
          who(review, f), figure_text(f.figure));
  }
}

std::string say_notes(const Review& review, const Finding& f) {
  const std::string at = sentence_case(bar_of(f));
  switch (f.kind) {
    case FindingKind::wrong_notes:
      return fmt::format(
          "{} had wrong notes in {} verses: work out its fingering once and keep it.", at,
          f.verses_affected);
    case FindingKind::missed_notes:
      return fmt::format("{} lost notes in {} verses: play it slowly, all voices sounding.", at,
                         f.verses_affected);
    case FindingKind::correction:
      return fmt::format("You put a note right in {}: in a service play on, the beat matters more.",
                         where(review, f));
    case FindingKind::restart:
      return fmt::format(
          "You went back at {}: practise starting from that bar, and when leading "
          "play on.",
          where(review, f));
    default: break;
  }
  const auto& played = review.alignment.passes[static_cast<std::size_t>(f.pass)];
  const auto& planned = review.route.passes[static_cast<std::size_t>(played.route_pass)];
  return fmt::format("{} {} played {}; the plan says {}.", who(review, f), was(f),
                     texture_name(played.textures.front()), texture_name(planned.textures.front()));
}

std::string say_stops(const Review& review, const Finding& f) {
  const std::string name = joins_concerned(review, f);
  const std::string ms = figure_text(f.figure);
  switch (f.kind) {
    case FindingKind::stops_heard:
      return fmt::format(
          "{}: the stops moved {} ms before the chord was let go, and were heard in it: let go, "
          "then reach.",
          name, ms);
    case FindingKind::stops_cost_beat:
      return fmt::format(
          "{} came late, and the hand cannot have been back from the stops until {} ms after the "
          "planned entry: move fewer stops there, sooner, or by a piston.",
          name, ms);
    case FindingKind::stops_after_beat:
      return fmt::format(
          "{}: the stops moved {} ms after the entry: move them in the silence, or leave them as "
          "they are.",
          name, ms);
    default:
      return fmt::format(
          "{} was not in time, and the stops that the plan moves there stayed as they were: "
          "practise that movement by itself, counting.",
          name);
  }
}

}  // namespace

std::string sentence(const Review& review, const Finding& finding) {
  switch (finding.kind) {
    case FindingKind::tempo_off: return say_tempo(review, finding);
    case FindingKind::dragging:
    case FindingKind::rushing: return say_trend(review, finding);
    case FindingKind::unsteady: return say_unsteady(review, finding);
    case FindingKind::hesitation: return say_hesitation(review, finding);
    case FindingKind::join_early:
    case FindingKind::join_late:
    case FindingKind::join_miscounted:
    case FindingKind::join_unlike: return say_join(review, finding);
    case FindingKind::play_over_tempo:
    case FindingKind::play_over_slowing:
    case FindingKind::play_over_timid: return say_play_over(review, finding);
    case FindingKind::feet_late:
    case FindingKind::feet_early:
    case FindingKind::hands_apart: return say_limbs(review, finding);
    case FindingKind::smear:
    case FindingKind::repeats_unstruck:
    case FindingKind::sustain_pedal:
    case FindingKind::ragged_release: return say_releases(review, finding);
    case FindingKind::stops_heard:
    case FindingKind::stops_cost_beat:
    case FindingKind::stops_after_beat:
    case FindingKind::stops_left_out: return say_stops(review, finding);
    case FindingKind::wrong_notes:
    case FindingKind::missed_notes:
    case FindingKind::correction:
    case FindingKind::restart:
    case FindingKind::texture: break;
  }
  return say_notes(review, finding);
}

}  // namespace loftbeat::practice
