#include "organ/registration.h"

#include <algorithm>
#include <array>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "base/nearest.h"
#include "organ/names.h"

namespace loftbeat::organ {
namespace {

Error no_fit(std::string message, std::string hint) {
  return {ErrorKind::no_fit, std::move(message), {}, 0, 0, std::move(hint)};
}

// Every way to write a stop, the fullest first.
std::array<std::string, 4> ways_to_write(const Organ& organ, const Stop& stop) {
  const std::string& division = organ.divisions[stop.division].name;
  return {plain(full_name(organ, stop)), plain(division + " " + stop.name),
          plain(stop.name + " " + stop.pitch), plain(stop.name)};
}

// Of a list of things that have a `name`.
template <typename Thing>
Result<std::size_t> find_named(const std::vector<Thing>& things, std::string_view kind,
                               std::string_view name) {
  const std::string wanted = plain(name);
  std::vector<std::string> known;
  for (std::size_t i = 0; i < things.size(); ++i) {
    if (plain(things[i].name) == wanted) return i;
    known.push_back(things[i].name);
  }
  return no_fit(fmt::format("there is no {} \"{}\" on this organ.", kind, name),
                nearest_hint(name, known));
}

void keep_once(std::vector<std::size_t>& indexes) {
  std::sort(indexes.begin(), indexes.end());
  indexes.erase(std::unique(indexes.begin(), indexes.end()), indexes.end());
}

using Find = Result<std::size_t> (*)(const Organ&, std::string_view);

Status find_all(const Organ& organ, const std::optional<std::vector<std::string>>& names, Find find,
                std::vector<std::size_t>& into) {
  if (!names) return {};
  for (const std::string& name : *names) {
    const auto found = find(organ, name);
    if (!found) return found.error();
    into.push_back(*found);
  }
  keep_once(into);
  return {};
}

Status set_boxes(const Organ& organ, const plan::RegistrationPlan& names, Registration& drawn) {
  const auto set = [&](std::size_t division, double position) {
    if (organ.divisions[division].box) drawn.swell[division] = position;
  };
  for (std::size_t d = 0; d < organ.divisions.size() && names.swell; ++d) set(d, *names.swell);
  if (!names.swell_of) return {};
  for (const auto& [name, position] : *names.swell_of) {
    const auto division = find_division(organ, name);
    if (!division) return division.error();
    if (!organ.divisions[*division].box) {
      return no_fit(
          fmt::format("a swell position is given for \"{}\", which stands in no box.", name),
          "Leave it out, or give the division enclosed = true in the organ file.");
    }
    set(*division, position);
  }
  return {};
}

Status set_crescendo(const Organ& organ, const plan::RegistrationPlan& names, Registration& drawn) {
  const int wanted = names.crescendo.value_or(0);
  const int last = organ.crescendo ? organ.crescendo->last() : 0;
  if (wanted > last && last == 0)
    return no_fit("a crescendo is given, and this organ has no crescendo pedal.",
                  "Leave it out, or describe the pedal in the organ file under [crescendo].");
  if (wanted > last)
    return no_fit(
        fmt::format("crescendo {} is beyond the pedal's last position, {}.", wanted, last),
        "Give a smaller one.");
  drawn.crescendo = wanted;
  return {};
}

// The piston's set, with those of `before` that it does not govern.
template <typename Governs>
std::vector<std::size_t> replaced(const std::vector<std::size_t>& before,
                                  const std::vector<std::size_t>& set, Governs governs) {
  std::vector<std::size_t> after = set;
  for (const std::size_t index : before) {
    if (!governs(index)) after.push_back(index);
  }
  keep_once(after);
  return after;
}

}  // namespace

Registration empty_registration(const Organ& organ) {
  Registration drawn;
  drawn.swell.assign(organ.divisions.size(), 1.0);
  return drawn;
}

Result<std::size_t> find_stop(const Organ& organ, std::string_view name) {
  const std::string wanted = plain(name);
  std::vector<std::array<std::string, 4>> written;
  for (const Stop& stop : organ.stops) written.push_back(ways_to_write(organ, stop));
  for (std::size_t way = 0; way < 4; ++way) {
    std::vector<std::size_t> found;
    for (std::size_t s = 0; s < written.size(); ++s) {
      if (written[s][way] == wanted) found.push_back(s);
    }
    if (found.size() == 1) return found.front();
    if (found.empty()) continue;
    std::vector<std::string> all;
    for (const std::size_t s : found) all.push_back(full_name(organ, organ.stops[s]));
    return no_fit(fmt::format("the stop \"{}\" may be any of {}.", name, fmt::join(all, ", ")),
                  "Write division, name and foot pitch.");
  }
  std::vector<std::string> known;
  for (const Stop& stop : organ.stops) known.push_back(full_name(organ, stop));
  return no_fit(fmt::format("there is no stop \"{}\" on this organ.", name),
                nearest_hint(name, known));
}

Result<std::size_t> find_coupler(const Organ& organ, std::string_view name) {
  return find_named(organ.couplers, "coupler", name);
}
Result<std::size_t> find_tremulant(const Organ& organ, std::string_view name) {
  return find_named(organ.tremulants, "tremulant", name);
}
Result<std::size_t> find_division(const Organ& organ, std::string_view name) {
  return find_named(organ.divisions, "division", name);
}

Result<Registration> resolve(const Organ& organ, const plan::RegistrationPlan& names,
                             const std::string& plan_file) {
  Registration drawn = empty_registration(organ);
  Status status;
  int line = 0;
  const auto then = [&](int line_of_it, auto resolve_it) {
    if (!status) return;
    status = resolve_it();
    line = line_of_it;
  };
  const plan::RegistrationLines& lines = names.lines;
  then(lines.stops, [&] { return find_all(organ, names.stops, find_stop, drawn.stops); });
  then(lines.couplers,
       [&] { return find_all(organ, names.couplers, find_coupler, drawn.couplers); });
  then(lines.tremulants,
       [&] { return find_all(organ, names.tremulants, find_tremulant, drawn.tremulants); });
  then(lines.swell, [&] { return set_boxes(organ, names, drawn); });
  then(lines.crescendo, [&] { return set_crescendo(organ, names, drawn); });
  if (status) return drawn;
  Error error = status.error();
  error.file = plan_file;
  error.line = line;
  return error;
}

Registration with_crescendo(const Organ& organ, Registration drawn) {
  if (!organ.crescendo || drawn.crescendo <= 0) return drawn;
  const auto& stages = organ.crescendo->stages;
  const auto count = std::min(stages.size(), static_cast<std::size_t>(drawn.crescendo));
  for (std::size_t stage = 0; stage < count; ++stage) {
    const auto add = [](std::vector<std::size_t>& to, const std::vector<std::size_t>& more) {
      to.insert(to.end(), more.begin(), more.end());
      keep_once(to);
    };
    add(drawn.stops, stages[stage].stops);
    add(drawn.couplers, stages[stage].couplers);
  }
  drawn.crescendo = 0;
  return drawn;
}

Registration after_piston(const Organ& organ, Registration before, const Piston& piston) {
  const auto governs_stop = [&](std::size_t stop) {
    return !piston.division || organ.stops[stop].division == *piston.division;
  };
  // A piston of one division moves the couplers that are played on it.
  const auto governs_coupler = [&](std::size_t coupler) {
    return !piston.division || organ.couplers[coupler].played_on == *piston.division;
  };
  before.stops = replaced(before.stops, piston.stops, governs_stop);
  before.couplers = replaced(before.couplers, piston.couplers, governs_coupler);
  return before;
}

std::vector<Speaking> coupled(const Organ& organ, const Registration& drawn, Speaking pressed) {
  std::vector<Speaking> all;
  const auto add = [&](Speaking one) {
    const bool within = organ.divisions[one.division].has_key(one.key);
    if (within && std::find(all.begin(), all.end(), one) == all.end()) all.push_back(one);
  };
  add(pressed);
  for (const std::size_t index : drawn.couplers) {
    const Coupler& coupler = organ.couplers[index];
    if (coupler.played_on == pressed.division) {
      add({coupler.sounds, pressed.key + coupler.semitones});
    }
  }
  return all;
}

}  // namespace loftbeat::organ
