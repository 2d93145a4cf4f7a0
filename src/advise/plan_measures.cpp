#include "advise/plan_measures.h"

#include <algorithm>

namespace loftbeat::advise {
namespace {

// The church at every number of people that is asked for, made once for all passes.
struct Halls {
  explicit Halls(const PlanQuestion& question)
      : empty(make_hall(*question.church, 0, 0)),
        full(make_hall(*question.church, question.people, question.people)) {
    for (const int people : kPeopleCounts) {
      as_empty.push_back(make_hall(*question.church, 0, people));
      with_people.push_back(make_hall(*question.church, people, people));
    }
  }
  Hall empty;
  Hall full;
  std::vector<Hall> as_empty;  // of the singing alone
  std::vector<Hall> with_people;
};

Measured<double> measured(const std::optional<double>& figure) {
  return figure ? Measured<double>(*figure) : Measured<double>::unknown("nothing is heard");
}

std::vector<HeadCount> head_counts(const PlanQuestion& question, const Halls& halls,
                                   const Power& power, const hearing::VoiceBand& sung) {
  std::vector<HeadCount> counts;
  for (std::size_t i = 0; i < kPeopleCounts.size(); ++i) {
    const int people = kPeopleCounts[i];
    HeadCount count;
    count.people = people;
    count.church_as_empty = heard(halls.as_empty[i], power, sung).over;
    count.with_people = heard(halls.with_people[i], power, sung).over;
    count.extrapolated_share =
        room::people_effect(*question.church, levels_of(power), {people, people})
            .extrapolated_share;
    counts.push_back(count);
  }
  return counts;
}

Measured<UpperWork> upper_work(const PlanQuestion& question, const Halls& halls,
                               const PassMeasure& pass, const std::vector<Sounding>& sounding) {
  UpperWork upper;
  organ::Registration without = pass.drawn;
  for (const std::size_t stop : pass.drawn.stops) {
    if (is_upper_work(question.organ->stops[stop])) upper.stops.push_back(stop);
  }
  if (upper.stops.empty()) return Measured<UpperWork>::unknown("no upper work is drawn");
  std::erase_if(without.stops,
                [&](std::size_t stop) { return is_upper_work(question.organ->stops[stop]); });
  const Power power = registration_power(*question.organ, without, *question.powers, sounding);
  const Heard lower = heard(halls.full, power, pass.sung);
  const room::PeopleEffect effect =
      room::people_effect(*question.church, levels_of(power), {question.people, question.people});
  for (std::size_t i = 0; i < room::kOctaveCount; ++i) {
    upper.gives_sone[i] =
        pass.effect.octaves[i].over_singing_sone - effect.octaves[i].over_singing_sone;
  }
  upper.lead_with_sone = pass.full.over.lead_sone;
  upper.lead_without_sone = lower.over.lead_sone;
  upper.sharpness_with_acum = measured(pass.full.sharpness_acum);
  upper.sharpness_without_acum = measured(lower.sharpness_acum);
  return upper;
}

PassMeasure measure_pass(const PlanQuestion& question, const Halls& halls,
                         const PlayedPass& played) {
  PassMeasure pass;
  pass.label = played.label;
  pass.drawn = played.drawn;
  pass.sung = hearing::voice_band_of_tune(played.lowest_tune_note, played.highest_tune_note);
  if (played.keys.empty()) pass.silent_because = "nothing is played";
  if (played.drawn.stops.empty()) pass.silent_because = "no stop is drawn";
  if (!pass.silent_because.empty()) return pass;
  const std::vector<Sounding> sounding = mean_sounding(*question.organ, played.drawn, played.keys);
  const Power power = registration_power(*question.organ, played.drawn, *question.powers, sounding);
  if (std::all_of(power.begin(), power.end(), [](double p) { return p <= 0; })) {
    pass.silent_because = "the stops drawn do not speak on the keys played";
    return pass;
  }
  pass.empty = heard(halls.empty, power, pass.sung);
  pass.full = heard(halls.full, power, pass.sung);
  const auto over_time = [&](const Hall& hall) {
    return measure_over_time(*question.organ, played.drawn, *question.powers, played.keys, hall)
        .value_or(OverTime{});
  };
  pass.empty_over_time = over_time(halls.empty);
  pass.full_over_time = over_time(halls.full);
  pass.effect =
      room::people_effect(*question.church, levels_of(power), {question.people, question.people});
  pass.upper = upper_work(question, halls, pass, sounding);
  pass.heads = head_counts(question, halls, power, pass.sung);
  const Scene scene{question.organ, question.powers, &halls.full, pass.sung, sounding};
  pass.stop_effects = stop_effects(scene, played.drawn);
  pass.swaps = swaps_at_8_foot(scene, played.drawn);
  return pass;
}

}  // namespace

PlanMeasures measure_plan(const PlanQuestion& question, const std::vector<PlayedPass>& passes) {
  const Halls halls(question);
  PlanMeasures measures;
  measures.title = question.title;
  measures.organ = *question.organ;
  measures.church = question.church->name;
  measures.people = question.people;
  for (std::size_t i = 0; i < room::kOctaveCount; ++i) {
    measures.empty_s[i] = halls.empty.acoustics.sabine_s[room::band_of_octave(i)];
    measures.full_s[i] = halls.full.acoustics.sabine_s[room::band_of_octave(i)];
    measures.empty_eyring_s[i] = halls.empty.acoustics.eyring_s[room::band_of_octave(i)];
    measures.full_eyring_s[i] = halls.full.acoustics.eyring_s[room::band_of_octave(i)];
  }
  for (const PlayedPass& pass : passes) {
    measures.passes.push_back(measure_pass(question, halls, pass));
  }
  return measures;
}

}  // namespace loftbeat::advise
