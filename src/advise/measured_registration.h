#pragma once

#include <map>
#include <optional>
#include <tuple>
#include <vector>

#include "advise/hall.h"
#include "advise/sounding.h"
#include "music/score.h"
#include "plan/route.h"

namespace loftbeat::advise {

// What is played in one pass, whatever is drawn: the notes of hands and feet. Which division they
// play depends on the registration (see playing_on); KeySpan::pressed.division is not read.
struct PassSound {
  std::vector<KeySpan> hands;
  std::vector<KeySpan> feet;
  hearing::VoiceBand sung;
};

// From the score, as the pass has it (spans, transposition, textures): the lowest voice in the
// feet but for no-pedal; unison the tune and its lower octave; tune-up-octave the topmost voice an
// octave up; richer chords as written. Seconds at a steady tempo, which does not matter to a mean.
// An unaccompanied or unwritten pass has no notes.
[[nodiscard]] PassSound pass_sound(const music::Score& score, const plan::RoutePass& pass,
                                   double quarters_per_minute = 90);

// The hands play the first manual that sounds with what is drawn, itself or through a coupler, the
// feet the first such pedal; without one the hands have all. Nothing drawn: nothing.
struct PlayingOn {
  std::optional<std::size_t> hands;
  std::optional<std::size_t> feet;
};
[[nodiscard]] PlayingOn playing_on(const organ::Organ& organ, const organ::Registration& drawn);

// Of each division whether it sounds, played or coupled, with or without stops drawn.
[[nodiscard]] std::vector<bool> sounding_divisions(const organ::Organ& organ,
                                                   const organ::Registration& drawn);

// Where it is heard. None may be null; the hall holds the people expected, all singing.
struct ListeningPlace {
  const organ::Organ* organ = nullptr;
  const StopPowers* powers = nullptr;
  const Hall* hall = nullptr;
};

// A registration heard in one pass: what checks and plans are made of. A value to keep: one for
// each registration and each different PassSound. `silent`: nothing is heard.
struct MeasuredRegistration {
  organ::Registration drawn;
  bool silent = true;
  Heard heard;
};
// One pass in which many registrations are measured: keeps what notes come to through the couplers,
// and what each stop gives under them. To the bit what measure_registration gives. Not thread-safe.
// Cost: some tens of microseconds for the first registration with other couplers or manuals (a hymn
// of 200 notes), then about ten, nearly all of it loudness.
class PassMeter {
 public:
  // What is pointed to must outlive it, and `sound` too.
  PassMeter(const ListeningPlace& place, const PassSound& sound) : place_(place), sound_(sound) {}
  [[nodiscard]] MeasuredRegistration measure(const organ::Registration& drawn);

 private:
  struct Through {
    std::vector<Sounding> sounding;
    std::vector<std::optional<Power>> by_stop;  // with every box open
  };
  using Way = std::tuple<std::optional<std::size_t>, std::optional<std::size_t>,
                         std::vector<std::size_t>>;  // hands, feet, couplers
  [[nodiscard]] Through& through(const organ::Registration& drawn);
  [[nodiscard]] Power power_of(const organ::Registration& drawn);

  ListeningPlace place_;
  const PassSound& sound_;
  std::map<Way, Through> through_;
};

// A single one.
[[nodiscard]] MeasuredRegistration measure_registration(const ListeningPlace& place,
                                                        const organ::Registration& drawn,
                                                        const PassSound& sound);

}  // namespace loftbeat::advise
