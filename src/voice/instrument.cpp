#include "voice/instrument.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "base/nearest.h"
#include "pipes/soundfont.h"
#include "pipes/zones.h"
#include "room/acoustics.h"
#include "room/impulse_response.h"
#include "voice/rt/fluid_pipes.h"

namespace loftbeat::voice {
namespace {

constexpr double kPressureAtOneMetreDb = -10.99;  // 10 lg(1 / 4 pi): power to pressure at 1 m

double amplitude(double db) { return std::pow(10.0, db / 20); }

Error of_organ(const organ::Organ& organ, std::string message, std::string hint) {
  return {ErrorKind::no_fit, std::move(message), organ.file, 0, 0, std::move(hint)};
}

Result<rt::FluidSpec::Stop> pipes_of(const organ::Organ& organ, const organ::Stop& stop,
                                     const pipes::Recipes& recipes) {
  const std::string name = full_name(organ, stop);
  const pipes::Rank* rank = recipes.find(stop.rank);
  if (rank == nullptr) {
    return of_organ(organ, "there are no pipes \"" + stop.rank + "\" for the stop " + name + ".",
                    nearest_hint(stop.rank, recipes.ids()));
  }
  int octaves = 0;
  if (stop.feet > 0 && rank->family != organ::Family::mixture) {
    const auto up = organ::octaves_up(stop.feet, rank->feet);
    if (!up) {
      return of_organ(organ,
                      "the stop " + name + " cannot speak on \"" + stop.rank +
                          "\": the two are not whole octaves apart.",
                      "Choose a rank of the same pitch.");
    }
    octaves = *up;
  }
  return rt::FluidSpec::Stop{name, static_cast<int>(stop.division), rank->program,
                             organ.power_db + stop.power_db, octaves};
}

Result<std::unique_ptr<rt::PipeSource>> make_pipes(const InstrumentOrder& order) {
  const organ::Organ& organ = *order.organ;
  rt::FluidSpec spec;
  spec.soundfont = order.soundfont;
  spec.divisions = static_cast<int>(organ.divisions.size());
  spec.polyphony = polyphony_for(organ);
  for (const pipes::Zone& zone : pipes::zones())
    spec.as_recorded.set(static_cast<std::size_t>(zone.root));
  spec.bends.resize(organ.divisions.size());
  for (const organ::Tremulant& tremulant : organ.tremulants) spec.bends[tremulant.division] = true;
  for (const organ::Stop& stop : organ.stops) {
    Result<rt::FluidSpec::Stop> pipes = pipes_of(organ, stop, *order.recipes);
    if (!pipes) return pipes.error();
    spec.stops.push_back(std::move(*pipes));
  }
  Result<std::unique_ptr<rt::FluidPipes>> pipes = rt::FluidPipes::make(spec);
  if (!pipes) return pipes.error();
  return std::unique_ptr<rt::PipeSource>(std::move(*pipes));
}

rt::ConsoleSpec console_of(const organ::Organ& organ) {
  rt::ConsoleSpec spec;
  for (const organ::Division& division : organ.divisions)
    spec.divisions.push_back({division.lowest_key, division.highest_key});
  for (const organ::Stop& stop : organ.stops)
    spec.stops.push_back({static_cast<int>(stop.division)});
  for (const organ::Coupler& coupler : organ.couplers) {
    spec.couplers.push_back(
        {static_cast<int>(coupler.played_on), static_cast<int>(coupler.sounds), coupler.semitones});
  }
  return spec;
}

// The straight sound is taken out of the response, since the player keeps it apart.
Status add_room(const InstrumentOrder& order, rt::PlayerSpec& spec) {
  const room::Acoustics state = room::acoustics(*order.church, order.people);
  room::ResponseSpec response;
  response.sample_rate_hz = rt::kSampleRate;
  response.distance_m = order.church->distance.organ_to_people_m;
  response.directivity = order.church->organ_directivity;
  spec.direct_gain = std::sqrt(response.directivity) / response.distance_m;
  rt::Convolver::Spec room;
  room.quantum = order.quantum;
  response.seed = 1;
  room.left = room::impulse_response(state, response);
  response.seed = 2;
  room.right = room::impulse_response(state, response);
  for (std::vector<float>* side : {&room.left, &room.right})
    if (!side->empty()) side->front() -= static_cast<float>(spec.direct_gain);
  Result<std::unique_ptr<rt::Convolver>> convolver = rt::Convolver::make(room);
  if (!convolver) return convolver.error();
  spec.room = std::move(*convolver);
  return {};
}

}  // namespace

int polyphony_for(const organ::Organ& organ) {
  constexpr std::size_t kKeysAtOnce = 12;
  constexpr std::size_t kWithOctaveCouplersAndRelease = 4;
  const std::size_t voices = organ.stops.size() * kKeysAtOnce * kWithOctaveCouplersAndRelease;
  return static_cast<int>(std::clamp<std::size_t>(voices, 256, 8192));
}

double dry_gain_db(const organ::Organ& organ, const organ::Stop& stop) {
  return organ.power_db + stop.power_db - kDryLossDb - kFullScaleSplDb;
}

Result<std::unique_ptr<rt::Player>> make_player(const InstrumentOrder& order) {
  rt::PlayerSpec spec;
  spec.console = console_of(*order.organ);
  Result<std::unique_ptr<rt::PipeSource>> pipes = make_pipes(order);
  if (!pipes) return pipes.error();
  spec.pipes = std::move(*pipes);
  for (const organ::Division& division : order.organ->divisions) {
    spec.boxes.emplace_back();
    if (division.box)
      spec.boxes.back() = rt::SwellBoxSpec{division.box->closed_db, division.box->closed_hz};
  }
  for (const organ::Tremulant& tremulant : order.organ->tremulants)
    spec.tremulants.push_back(
        {static_cast<int>(tremulant.division), tremulant.rate_hz, tremulant.depth_cents});
  spec.quantum = order.quantum;
  double loss = -kDryLossDb;
  if (order.church != nullptr) {
    loss = kPressureAtOneMetreDb;
    if (Status status = add_room(order, spec); !status) return status.error();
  }
  spec.output_gain = amplitude(pipes::kFullScalePowerDb + loss - kFullScaleSplDb + order.volume_db);
  spec.limiter = order.limiter;
  spec.quiet_start_db = order.quiet_start_db;
  return std::make_unique<rt::Player>(std::move(spec));
}

}  // namespace loftbeat::voice
