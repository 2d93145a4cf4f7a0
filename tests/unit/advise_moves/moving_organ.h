#pragma once

// An invented organ that tells its stop moves, a take on it, and a join in it.

#include <string>
#include <vector>

#include "advise/stop_verdicts.h"

namespace loftbeat::advise {

inline constexpr int kFifteenth = 21;  // its controller

// Great (channel 1), Swell (2), Pedal (3). Stops: 0 Great Principal 8, 1 Great Fifteenth 2 (right
// jamb), 2 Swell Oboe 8 (left jamb), 3 Pedal Bourdon 16: controllers 20 to 23 of channel 16.
// Coupler Swell to Great: controller 24. Piston Great 1: controller 30, draws both Great stops.
[[nodiscard]] inline organ::Organ moving_organ() {
  organ::Organ organ;
  organ.name = "Invented";
  const auto division = [&](const char* name, int channel) {
    organ::Division made;
    made.name = name;
    made.channel = channel;
    organ.divisions.push_back(made);
  };
  division("Great", 1);
  division("Swell", 2);
  division("Pedal", 3);
  organ.divisions[2].kind = organ::Division::Kind::pedal;
  organ.divisions[2].lowest_key = 24;
  int controller = 20;
  const auto sends = [&](organ::MidiMapping& midi, int number) {
    midi.kind = organ::MidiMapping::Kind::control;
    midi.channel = 16;
    midi.number = number;
  };
  const auto stop = [&](const char* name, std::size_t in, const char* pitch, double feet,
                        organ::Location at) {
    organ::Stop made;
    made.name = name;
    made.division = in;
    made.pitch = pitch;
    made.feet = feet;
    made.location = at;
    sends(made.midi, controller++);
    organ.stops.push_back(made);
  };
  stop("Principal", 0, "8", 8, {organ::Side::right, 1, 1});
  stop("Fifteenth", 0, "2", 2, {organ::Side::right, 1, 2});
  stop("Oboe", 1, "8", 8, {organ::Side::left, 1, 1});
  stop("Bourdon", 2, "16", 16, {organ::Side::left, 1, 2});
  organ::Coupler coupler;
  coupler.name = "Swell to Great";
  coupler.played_on = 0;
  coupler.sounds = 1;
  coupler.location = {organ::Side::above, 1, 1};
  sends(coupler.midi, controller);
  organ.couplers.push_back(coupler);
  organ::Piston piston;
  piston.name = "Great 1";
  piston.division = 0;
  piston.stops = {0, 1};
  sends(piston.midi, 30);
  organ.pistons.push_back(piston);
  return organ;
}

[[nodiscard]] inline take::Event control_at(double s, int controller, int value) {
  take::Event event;
  event.at = instant_from_seconds(s);
  event.kind = take::EventKind::control;
  event.channel = 15;
  event.data1 = static_cast<std::uint8_t>(controller);
  event.data2 = static_cast<std::uint8_t>(value);
  return event;
}

[[nodiscard]] inline take::Event mark_at(double s, const std::string& text) {
  take::Event event;
  event.at = instant_from_seconds(s);
  event.kind = take::EventKind::marker;
  event.bytes = text;
  return event;
}

// Verse 1 ends with a chord on the Great from 10 s to 13 s; verse 2 comes in at 15 s, or later; the
// plan wants it at 15 s (5 beats of a second). The plan draws the Principal, and in verse 2 the
// Fifteenth too.
struct MovingScene {
  organ::Organ organ = moving_organ();
  ConsoleMap console;
  plan::Plan plan;
  take::Take raw;
  take::CleanTake take;
  follow::Alignment alignment;
  std::vector<timing::JoinMeasures> joins;

  explicit MovingScene(timing::JoinVerdict verdict = timing::JoinVerdict::in_time,
                       double late_s = 0) {
    plan.registration.stops = std::vector<std::string>{"Great Principal 8"};
    plan.verse_plans[2].registration.stops =
        std::vector<std::string>{"Great Principal 8", "Great Fifteenth 2"};
    for (const int key : {60, 64, 67}) {
      take::TakenNote note;
      note.on = instant_from_seconds(10);
      note.off = note.sound_off = instant_from_seconds(13);
      note.pitch = static_cast<std::uint8_t>(key);
      note.channels = 1;
      take.notes.push_back(note);
    }
    for (const char* label : {"1", "2"}) {
      follow::AlignedPass pass;
      pass.label = label;
      alignment.passes.push_back(pass);
    }
    alignment.passes[1].first_onset = instant_from_seconds(15 + late_s);
    timing::JoinMeasures join;
    join.before = 0;
    join.after = 1;
    join.last_onset_s = 10;
    join.release_s = 13;
    join.onset_s = 15 + late_s;
    join.silence_s = join.onset_s - join.release_s;
    join.span_beats = 5 + late_s;
    join.planned_span_beats = 5;
    join.verdict = verdict;
    joins.push_back(join);
  }

  [[nodiscard]] StopReview judged() {
    console = lay_out(organ);
    return review_stops({console, plan, raw, take, alignment, joins});
  }
};

}  // namespace loftbeat::advise
