#include "advise/plan_sentences.h"

#include <fmt/format.h>

namespace loftbeat::advise {
namespace {

using organ::ConsoleMove;

// More controls than this to leave out are no small mend, and too long a list.
constexpr std::size_t kMostNamed = 4;

std::string pass_name(const plan::RoutePass& pass) {
  switch (pass.kind) {
    case plan::PassKind::play_over: return "the play-over";
    case plan::PassKind::interlude: return "the interlude";
    case plan::PassKind::amen: return "the Amen";
    case plan::PassKind::verse: break;
  }
  return "verse " + pass.label;
}

std::string names_of(const CheckContext& context, const std::vector<ConsoleMove>& controls) {
  if (context.console == nullptr) return {};
  std::string names;
  for (std::size_t i = 0; i < controls.size(); ++i) {
    if (i > 0) names += i + 1 == controls.size() ? " and " : ", ";
    names += name_of(*context.console->organ, controls[i]);
  }
  return names;
}

std::string beats(double count) {
  return fmt::format("{:.4g} {}", count, count == 1 ? "beat" : "beats");
}

std::string mend_text(const CheckContext& context, const PlanFinding& finding) {
  const std::string names = names_of(context, finding.controls);
  switch (finding.mend) {
    case Mend::none: return {};
    case Mend::leave_out:
      if (finding.controls.size() > kMostNamed) {
        return "Smallest mend: do one of them, or set the change on a piston.";
      }
      return names.empty() ? "" : fmt::format("Smallest mend: leave out {} here.", names);
    case Mend::prepare:
      return fmt::format(
          "Smallest mend: prepare {} during the pass before, while that division is silent "
          "(moves-at = \"silent\").",
          names);
    case Mend::longer_lift:
      return fmt::format("Smallest mend: {} more of silence, a piston, or fewer stops.",
                         beats(finding.by));
    case Mend::use_pedal: return "Smallest mend: give the bass of the last chord to the pedal.";
    case Mend::change_nothing: return "Smallest mend: leave the stops as they are.";
    case Mend::texture:
      return "Unison, no pedal or the tune an octave higher gives a contrast and needs no hand.";
    case Mend::as_verse_1: return "Smallest mend: play over on the stops of verse 1.";
    case Mend::fewer_upper: return fmt::format("Smallest mend: leave {} in.", names);
    case Mend::more_upper: return "Smallest mend: add a 4', then a 2' of the principals.";
    case Mend::breathe:
      return fmt::format("Smallest mend: {:.0f} beats a minute more, or a planned breath.",
                         finding.by);
    case Mend::say_places:
      return fmt::format("Write side, row and place of {} into the organ file.", names);
    case Mend::say_join: return "Write tempo and join into the plan.";
  }
  return {};
}

std::string hand_reason(const CheckContext& context, const PlanFinding& finding) {
  const FreeHand& hand = context.joins[static_cast<std::size_t>(finding.join)].hand;
  return fmt::format(
      "no hand is free: the last chord spans {} semitones in the hands, and one hand holds {}",
      hand.span_semitones, finding.limit);
}

std::string fault_text(const CheckContext& context, const PlanFinding& finding) {
  const double figure = finding.figure;
  const double limit = finding.limit;
  switch (finding.fault) {
    case PlanFault::several_movements:
      return fmt::format("{:.0f} movements at one join; a sure hand does one", figure);
    case PlanFault::both_sides: return "stops move on two sides of the console, which is two goes";
    case PlanFault::draw_and_push:
      return "stops are drawn and pushed in at one join, which is two goes";
    case PlanFault::not_enough_time:
      return fmt::format("the move needs {:.1f} s with a margin, and the {} has {:.1f} s", figure,
                         finding.reason, limit);
    case PlanFault::no_free_hand: return hand_reason(context, finding);
    case PlanFault::unheard_change:
      return fmt::format(
          "nobody will hear this change: loudness, lead and sharpness change by at most {:.0f} % "
          "of what is noticed in singing",
          100 * figure);
    case PlanFault::weak_play_over:
      return fmt::format("only {:.0f} % as loud as verse 1; people will come in timidly",
                         100 * figure);
    case PlanFault::dull_play_over:
      return fmt::format("{:.1f} acum duller than verse 1; it promises another sound", -figure);
    case PlanFault::bright_for_few:
      return fmt::format(
          "upper work stands naked over {} people: {:.1f} sone of it, {:.1f} would do",
          context.people, figure, limit);
    case PlanFault::little_lead_for_many:
      return fmt::format(
          "{} people cover the organ: a lead of {:.1f} sone is left, {:.1f} are "
          "needed to carry the beat",
          context.people, figure, limit);
    case PlanFault::long_breath:
      return fmt::format("line {} lasts {:.1f} s at this tempo; one breath sings {:.0f} s",
                         finding.phrase, figure, limit);
    case PlanFault::texture_for_free: return "a change of texture would do";
    case PlanFault::doubled_upper_pitch:
      return fmt::format(
          "{} speak at one pitch, a little out of tune with each other; hymns "
          "forgive it",
          names_of(context, finding.controls));
    case PlanFault::time_unknown:
      return fmt::format("the move needs {:.1f} s; whether there is time cannot be told: {}",
                         figure, finding.reason);
    case PlanFault::places_unknown:
      return "the organ file does not say where all of these are; the worst is assumed";
  }
  return {};
}

}  // namespace

std::string name_of(const organ::Organ& organ, const ConsoleMove& move) {
  switch (move.what) {
    case ConsoleMove::What::stop: return organ::full_name(organ, organ.stops[move.index]);
    case ConsoleMove::What::coupler: return organ.couplers[move.index].name;
    case ConsoleMove::What::tremulant: return organ.tremulants[move.index].name;
    case ConsoleMove::What::piston: return organ.pistons[move.index].name;
    case ConsoleMove::What::swell: return organ.divisions[move.index].name + " box";
    case ConsoleMove::What::crescendo: return "crescendo pedal";
  }
  return {};
}

std::string describe(const organ::Organ& organ, const ConsoleMove& pedal) {
  if (pedal.what == ConsoleMove::What::crescendo)
    return fmt::format("{} to {:.0f}", name_of(organ, pedal), pedal.value);
  return fmt::format("{} to {:.0f} %", name_of(organ, pedal), 100 * pedal.value);
}

std::string place_of(const CheckContext& context, const PlanFinding& finding) {
  const auto& passes = context.route->passes;
  if (finding.join >= 0) {
    return "before " + pass_name(passes[static_cast<std::size_t>(finding.join) + 1]);
  }
  return finding.pass < 0 ? "" : "in " + pass_name(passes[static_cast<std::size_t>(finding.pass)]);
}

std::string sentence(const CheckContext& context, const PlanFinding& finding) {
  std::string place = place_of(context, finding);
  if (!place.empty()) place.front() = place.front() == 'b' ? 'B' : 'I';
  const std::string mend = mend_text(context, finding);
  return fmt::format("{}: {}.{}{}", place, fault_text(context, finding), mend.empty() ? "" : " ",
                     mend);
}

std::string describe(const organ::Organ& organ, const Movement& movement) {
  std::string names;
  for (const ConsoleMove& move : movement.controls) {
    names += fmt::format("{}{}", names.empty() ? "" : ", ", name_of(organ, move));
  }
  if (movement.is_piston()) {
    const bool thumb = movement.kind == Movement::Kind::thumb_piston;
    return fmt::format("{} piston {}", thumb ? "thumb" : "toe", names);
  }
  const char* hand = movement.side == organ::Side::left    ? "left"
                     : movement.side == organ::Side::right ? "right"
                     : movement.side == organ::Side::above ? "above"
                                                           : "somewhere";
  const bool draw = movement.kind == Movement::Kind::draw;
  return fmt::format("{}: {} {}", hand, draw ? "draw" : "push in", names);
}

std::string describe(const CheckContext& context, const JoinWork& join) {
  const organ::Organ& organ = *context.console->organ;
  std::string text;
  for (const Movement& movement : join.work.movements) {
    text += fmt::format("{}{}", text.empty() ? "" : "; ", describe(organ, movement));
  }
  for (const ConsoleMove& swell : join.work.swells) {
    text += (text.empty() ? "" : "; ") + describe(organ, swell);
  }
  if (!join.prepared.empty()) {
    text +=
        fmt::format("{}beforehand: {}", text.empty() ? "" : "; ", names_of(context, join.prepared));
  }
  if (text.empty()) return "Nothing moves.";
  if (join.work.movements.empty()) return text + ".";
  text += fmt::format(". Needs {:.1f} s, {:.1f} s of it in the silence", *join.needed_s,
                      *join.needed_lift_s);
  if (!join.window) return text + "; time not known: " + join.window.reason + ".";
  if (join.window->whole_s >= kEndless) return text + "; there is all the time.";
  return fmt::format("{}; there are {:.1f} s, silence {:.1f} s.", text, join.window->whole_s,
                     join.window->lift_s);
}

}  // namespace loftbeat::advise
