#include "advise/chorus_family.h"

#include <algorithm>
#include <optional>
#include <set>
#include <tuple>
#include <utility>

namespace loftbeat::advise {
namespace {

using organ::Family;
using organ::Organ;
using organ::Registration;
using Stops = std::vector<std::size_t>;

constexpr double kNear = 0.01;  // feet are whole or thirds and fifths; never as near as this

bool is_mixture(const organ::Stop& stop) { return stop.family == Family::mixture; }
bool has_feet(const organ::Stop& stop, double feet) {
  return !is_mixture(stop) && std::abs(stop.feet - feet) < kNear;
}
bool is_mutation(const organ::Stop& stop) { return stop.family == Family::mutation; }

// What a stop stands on in its division.
enum class Needs { nothing, eight_foot, four_foot };
Needs needs(const organ::Stop& stop) {
  if (is_mixture(stop) || is_mutation(stop) || stop.feet < 4 - kNear) return Needs::four_foot;
  return stop.feet < 8 - kNear ? Needs::eight_foot : Needs::nothing;
}

bool division_is_built_up(const Organ& organ, const Registration& drawn, std::size_t division) {
  bool eight = false;
  bool four = false;
  bool sixteen = false;
  Needs most = Needs::nothing;
  bool any = false;
  for (const std::size_t index : drawn.stops) {
    const organ::Stop& stop = organ.stops[index];
    if (stop.division != division) continue;
    any = true;
    sixteen = sixteen || has_feet(stop, 16);
    eight = eight || has_feet(stop, 8);
    four = four || has_feet(stop, 4);
    most = std::max(most, needs(stop));
  }
  if (organ.divisions[division].kind == organ::Division::Kind::pedal)
    return !any || sixteen || eight;
  if (most == Needs::nothing) return true;
  return eight && (most == Needs::eight_foot || four);
}

bool has_any(const Organ& organ, const Registration& drawn, std::size_t division) {
  return std::any_of(drawn.stops.begin(), drawn.stops.end(),
                     [&](std::size_t index) { return organ.stops[index].division == division; });
}

// Collects candidates, each once, up to the number allowed.
class Collection {
 public:
  Collection(const Organ& organ, const FamilyWish& wish) : organ_(organ), wish_(wish) {}

  void add_as_it_is(Registration drawn) { put(std::move(drawn)); }
  // With what is held and without what is barred; left out if it is then no chorus.
  void add(Registration drawn) {
    for (const std::size_t stop : wish_.held) drawn.stops.push_back(stop);
    std::sort(drawn.stops.begin(), drawn.stops.end());
    drawn.stops.erase(std::unique(drawn.stops.begin(), drawn.stops.end()), drawn.stops.end());
    std::erase_if(drawn.stops, [&](std::size_t stop) {
      return std::count(wish_.barred.begin(), wish_.barred.end(), stop) > 0;
    });
    if (!drawn.stops.empty() && is_chorus(organ_, drawn)) put(std::move(drawn));
  }
  [[nodiscard]] bool full() const { return found_.size() >= kMostCandidates; }
  [[nodiscard]] const std::vector<Registration>& found() const { return found_; }
  std::vector<Registration> take() { return std::move(found_); }

 private:
  void put(Registration drawn) {
    if (full()) return;
    if (known_.insert({drawn.stops, drawn.couplers, drawn.tremulants, drawn.swell}).second)
      found_.push_back(std::move(drawn));
  }
  const Organ& organ_;
  const FamilyWish& wish_;
  std::vector<Registration> found_;
  std::set<std::tuple<Stops, Stops, Stops, std::vector<double>>> known_;
};

Stops unison_couplers(const Organ& organ) {
  Stops couplers;
  for (std::size_t c = 0; c < organ.couplers.size(); ++c) {
    if (organ.couplers[c].semitones == 0) couplers.push_back(c);
  }
  return couplers;
}

void add_every_set(const Organ& organ, const Stops& couplers, Collection& family) {
  const std::size_t controls = organ.stops.size() + couplers.size();
  for (std::size_t bits = 1; bits < (std::size_t{1} << controls); ++bits) {
    Registration drawn = empty_registration(organ);
    for (std::size_t i = 0; i < controls; ++i) {
      if ((bits >> i & 1U) == 0) continue;
      if (i < organ.stops.size()) {
        drawn.stops.push_back(i);
      } else {
        drawn.couplers.push_back(couplers[i - organ.stops.size()]);
      }
    }
    family.add(std::move(drawn));
  }
}

template <typename Test>
Stops stops_of(const Organ& organ, std::size_t division, Test test) {
  Stops found;
  for (std::size_t i = 0; i < organ.stops.size(); ++i) {
    if (organ.stops[i].division == division && test(organ.stops[i])) found.push_back(i);
  }
  return found;
}

Stops joined(Stops a, const Stops& b) {
  a.insert(a.end(), b.begin(), b.end());
  return a;
}

// The choruses of one manual, from soft to full.
std::vector<Stops> choruses_of(const Organ& organ, std::size_t division) {
  const auto flue = [](const organ::Stop& stop) {
    return stop.family != Family::reed && stop.family != Family::celeste;
  };
  const auto at = [&](double feet) {
    return stops_of(organ, division,
                    [&](const organ::Stop& stop) { return flue(stop) && has_feet(stop, feet); });
  };
  const Stops eight = at(8);
  const Stops four = at(4);
  const Stops two = at(2);
  const Stops mutations = stops_of(organ, division, is_mutation);
  const Stops mixtures = stops_of(organ, division, is_mixture);
  const Stops reeds = stops_of(organ, division, [](const organ::Stop& stop) {
    return stop.family == Family::reed && stop.feet > 4 - kNear;
  });
  std::vector<Stops> choruses;
  for (const std::size_t stop : eight) choruses.push_back({stop});
  choruses.push_back(eight);
  for (const Stops& base : std::vector<Stops>(choruses)) {
    for (const std::size_t stop : four) choruses.push_back(joined(base, {stop}));
    if (four.empty()) continue;
    const Stops with_four = joined(base, {four.front()});
    for (const std::size_t stop : two) choruses.push_back(joined(with_four, {stop}));
    for (const std::size_t stop : mutations) choruses.push_back(joined(with_four, {stop}));
    const Stops with_two = two.empty() ? with_four : joined(with_four, {two.front()});
    choruses.push_back(joined(with_two, mixtures));
    for (const std::size_t reed : reeds) {
      choruses.push_back(joined(with_four, {reed}));
      choruses.push_back(joined(joined(with_two, mixtures), {reed}));
    }
  }
  return choruses;
}

// The manual that a hymn is led from: the one to which most others are coupled, of those the one
// with most stops.
std::size_t leading_manual(const Organ& organ, const Stops& couplers) {
  std::size_t best = 0;
  std::pair<std::size_t, std::size_t> most;
  for (std::size_t d = 0; d < organ.divisions.size(); ++d) {
    if (organ.divisions[d].kind == organ::Division::Kind::pedal) continue;
    std::size_t coupled = 0;
    for (const std::size_t c : couplers) {
      if (organ.couplers[c].played_on == d) ++coupled;
    }
    const std::pair rank(coupled,
                         stops_of(organ, d, [](const organ::Stop&) { return true; }).size());
    if (rank > most) {
      most = rank;
      best = d;
    }
  }
  return best;
}

struct Addition {
  Stops stops;
  Stops couplers;
};

// What another manual, coupled, can bring: nothing, its 8', 8' and 4', all of it.
std::vector<Addition> coupled_manuals(const Organ& organ, std::size_t main, const Stops& couplers) {
  std::vector<Addition> additions = {{}};
  for (const std::size_t c : couplers) {
    const organ::Coupler& coupler = organ.couplers[c];
    if (coupler.played_on != main || coupler.sounds == main) continue;
    const auto flues_from = [&](double feet) {
      return stops_of(organ, coupler.sounds, [&](const organ::Stop& stop) {
        const bool flue = stop.family != Family::reed && stop.family != Family::celeste;
        return flue && (has_feet(stop, 8) || (feet < 8 && has_feet(stop, 4)));
      });
    };
    additions.push_back({flues_from(8), {c}});
    additions.push_back({flues_from(4), {c}});
    additions.push_back(
        {stops_of(organ, coupler.sounds, [](const organ::Stop&) { return true; }), {c}});
  }
  return additions;
}

// What the pedal can bring: nothing, 16' and 8' flues, all; by itself and coupled to the manual.
std::vector<Addition> pedals(const Organ& organ, std::size_t main, const Stops& couplers) {
  std::vector<Addition> additions = {{}};
  for (std::size_t d = 0; d < organ.divisions.size(); ++d) {
    if (organ.divisions[d].kind != organ::Division::Kind::pedal) continue;
    const Stops all = stops_of(organ, d, [](const organ::Stop&) { return true; });
    const Stops soft = stops_of(organ, d, [](const organ::Stop& stop) {
      return stop.family != Family::reed && stop.feet > 8 - kNear;
    });
    Stops to_manual;
    for (const std::size_t c : couplers) {
      if (organ.couplers[c].played_on == d && organ.couplers[c].sounds == main)
        to_manual.push_back(c);
    }
    for (const Stops& stops : {soft, all}) {
      additions.push_back({stops, {}});
      if (!to_manual.empty()) additions.push_back({stops, to_manual});
    }
  }
  return additions;
}

void add_choruses(const Organ& organ, const Stops& couplers, Collection& family) {
  const std::size_t main = leading_manual(organ, couplers);
  const std::vector<Addition> feet = pedals(organ, main, couplers);
  for (const Addition& other : coupled_manuals(organ, main, couplers)) {
    for (const Stops& chorus : choruses_of(organ, main)) {
      for (const Addition& pedal : feet) {
        Registration drawn = empty_registration(organ);
        drawn.stops = joined(joined(chorus, other.stops), pedal.stops);
        drawn.couplers = joined(other.couplers, pedal.couplers);
        std::sort(drawn.couplers.begin(), drawn.couplers.end());
        family.add(std::move(drawn));
      }
    }
  }
}

void flip(Stops& drawn, std::size_t index) {
  const auto at = std::lower_bound(drawn.begin(), drawn.end(), index);
  if (at != drawn.end() && *at == index) {
    drawn.erase(at);
  } else {
    drawn.insert(at, index);
  }
}

void add_neighbours(const Organ& organ, const Stops& couplers, Collection& family) {
  const std::vector<Registration> middle = family.found();
  for (const Registration& drawn : middle) {
    for (std::size_t stop = 0; stop < organ.stops.size() && !family.full(); ++stop) {
      Registration near = drawn;
      flip(near.stops, stop);
      family.add(std::move(near));
    }
    for (const std::size_t coupler : couplers) {
      Registration near = drawn;
      flip(near.couplers, coupler);
      family.add(std::move(near));
    }
    if (family.full()) return;
  }
}

}  // namespace

bool is_chorus(const Organ& organ, const Registration& drawn) {
  for (std::size_t d = 0; d < organ.divisions.size(); ++d) {
    if (!division_is_built_up(organ, drawn, d)) return false;
  }
  return std::all_of(drawn.couplers.begin(), drawn.couplers.end(), [&](std::size_t coupler) {
    return has_any(organ, drawn, organ.couplers[coupler].sounds);
  });
}

std::vector<Registration> chorus_family(const Organ& organ, const FamilyWish& wish) {
  Collection family(organ, wish);
  for (const Registration& drawn : wish.besides) family.add_as_it_is(drawn);
  const Stops couplers = unison_couplers(organ);
  if (organ.stops.size() + couplers.size() <= kEverySetControls) {
    add_every_set(organ, couplers, family);
    return family.take();
  }
  add_choruses(organ, couplers, family);
  add_neighbours(organ, couplers, family);
  return family.take();
}

}  // namespace loftbeat::advise
