#include "app/listen_promise.h"

#include <optional>

#include <fmt/format.h>

#include "advise/advise.h"

namespace loftbeat::app {
namespace {

// What was drawn when a pass of the take began. Where the take tells of no stops, what the plan
// draws.
organ::Registration drawn_at(const ListenWork& work, const take::Take& take,
                             const advise::StopEvents& moved, const follow::AlignedPass& pass,
                             Instant at) {
  const auto& planned = work.checked.planned.registrations;
  if (moved.events.empty()) {
    const bool known =
        pass.route_pass >= 0 && static_cast<std::size_t>(pass.route_pass) < planned.size();
    return planned[known ? static_cast<std::size_t>(pass.route_pass) : 0];
  }
  organ::Registration drawn = planned.front();
  for (const advise::StopEvent& event : moved.events)
    if (event.at <= at) drawn = event.after;
  // Swell and crescendo are no movements of stops.
  organ::ConsoleReader reader(*work.organ());
  for (const take::Event& event : take.events) {
    if (event.at > at) break;
    for (const organ::ConsoleMove& move : reader.feed(event))
      if (move.what == organ::ConsoleMove::What::swell ||
          move.what == organ::ConsoleMove::What::crescendo)
        drawn = organ::moved(*work.organ(), drawn, move);
  }
  return drawn;
}

std::string pair_words(const char* name, double promised, double given, const char* unit,
                       int decimals) {
  return fmt::format("{} {:.{}f} and {:.{}f} {}", name, promised, decimals, given, decimals, unit);
}

}  // namespace

std::string promise_sound_words(const ListenWork& work, const practice::Review& review,
                                const take::Take& take) {
  if (!review.timing.play_over) return "";
  if (work.organ() == nullptr) return "Its strength is not known: the plan names no organ.";
  const SoundData& data = work.checked.data;
  if (!data.church || data.people < 1)
    return "Its strength is not known: the plan names no church with people in it.";
  const pipes::RankPowers ranks(data.recipes);
  const auto powers = advise::StopPowers::make(data.organ, data.recipes, ranks);
  if (!powers) return to_string(powers.error());
  const advise::Hall hall = advise::make_hall(*data.church, data.people, data.people);
  const advise::ListeningPlace place{&data.organ, &*powers, &hall};
  const advise::StopEvents moved =
      advise::stop_events(take, data.organ, work.checked.planned.registrations.front());
  std::vector<advise::Heard> heard;
  for (const int index : {review.timing.play_over->pass, review.timing.play_over->verse}) {
    const follow::AlignedPass& pass = review.alignment.passes[static_cast<std::size_t>(index)];
    if (pass.onsets.empty() || pass.route_pass < 0) return "";
    const auto& sounds = work.checked.context->sounds;
    const auto measured = advise::measure_registration(
        place, drawn_at(work, take, moved, pass, pass.onsets.front().first),
        sounds[static_cast<std::size_t>(pass.route_pass)]);
    if (measured.silent) return "Its strength is not known: no stop that is played is drawn.";
    heard.push_back(measured.heard);
  }
  return pair_words("Loudness", heard[0].sone, heard[1].sone, "sone", 0) + ", " +
         pair_words("sharpness", *heard[0].sharpness_acum, *heard[1].sharpness_acum, "acum", 2) +
         (moved.events.empty() ? ", by the plan's stops." : ", by the stops drawn.");
}

}  // namespace loftbeat::app
