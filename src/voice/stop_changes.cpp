#include "voice/stop_changes.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

#include "base/toml_document.h"

namespace loftbeat::voice {
namespace {

using organ::ConsoleMove;
using What = organ::ConsoleMove::What;

constexpr NumberRange kTimes{0, 86400};
constexpr NumberRange kSwell{0, 1};

std::optional<ConsoleMove> find_control(const organ::Organ& organ, const TomlItem& item,
                                        double value) {
  const std::optional<std::string> name = item.text();
  if (!name) return std::nullopt;
  const auto stop = organ::find_stop(organ, *name);
  if (stop) return ConsoleMove{What::stop, *stop, value};
  if (const auto coupler = organ::find_coupler(organ, *name); coupler)
    return ConsoleMove{What::coupler, *coupler, value};
  if (const auto tremulant = organ::find_tremulant(organ, *name); tremulant)
    return ConsoleMove{What::tremulant, *tremulant, value};
  item.refuse("a stop, coupler or tremulant of the organ", to_string(stop.error()));
  return std::nullopt;
}

void read_controls(const organ::Organ& organ, const TomlItem& list, double value,
                   StopChange& change) {
  for (const TomlItem& item : list.items())
    if (const auto move = find_control(organ, item, value)) change.moves.push_back(*move);
}

void read_swell(const organ::Organ& organ, const TomlItem& item, StopChange& change) {
  if (!item.present()) return;
  if (!item.is_table()) {
    const std::optional<double> position = item.number(kSwell);
    for (std::size_t d = 0; position && d < organ.divisions.size(); ++d)
      if (organ.divisions[d].box) change.moves.push_back({What::swell, d, *position});
    return;
  }
  const TomlTable table = *item.table();
  for (const std::string& name : table.keys()) {
    const auto division = organ::find_division(organ, name);
    const std::optional<double> position = table[name].number(kSwell);
    if (!division || !organ.divisions[*division].box) {
      table[name].refuse("a division in a swell box", division ? "" : to_string(division.error()));
    } else if (position) {
      change.moves.push_back({What::swell, *division, *position});
    }
  }
}

void read_piston(const organ::Organ& organ, const TomlItem& item, StopChange& change) {
  const std::optional<std::string> name = item.text();
  if (!name) return;
  for (std::size_t i = 0; i < organ.pistons.size(); ++i) {
    if (organ.pistons[i].name != *name) continue;
    change.moves.push_back({What::piston, i, 1});
    return;
  }
  std::vector<std::string> names;
  for (const organ::Piston& piston : organ.pistons) names.push_back(piston.name);
  item.refuse("a piston of the organ", nearest_hint(*name, names));
}

// Where passes begin, but for the first. A take has no marks, and so none.
std::vector<std::int64_t> pass_begins(const Performance& performance) {
  std::vector<std::int64_t> begins;
  for (std::size_t i = 1; i < performance.marks.size(); ++i) {
    if (performance.marks[i].pass != performance.marks[i - 1].pass)
      begins.push_back(performance.marks[i].frame);
  }
  return begins;
}

// What an event does to a registration, if anything.
std::optional<ConsoleMove> move_of(const rt::Event& event) {
  using rt::Act;
  switch (event.act) {
    case Act::draw_stop: return ConsoleMove{What::stop, event.index, 1};
    case Act::push_in_stop: return ConsoleMove{What::stop, event.index, 0};
    case Act::draw_coupler: return ConsoleMove{What::coupler, event.index, 1};
    case Act::push_in_coupler: return ConsoleMove{What::coupler, event.index, 0};
    case Act::tremulant_on: return ConsoleMove{What::tremulant, event.index, 1};
    case Act::tremulant_off: return ConsoleMove{What::tremulant, event.index, 0};
    case Act::swell:
      return ConsoleMove{What::swell, event.division, static_cast<double>(event.value)};
    default: return std::nullopt;
  }
}

}  // namespace

Result<std::vector<StopChange>> parse_stop_changes(std::string_view text, const std::string& name,
                                                   const organ::Organ& organ) {
  Result<TomlDocument> document = TomlDocument::parse(text, name);
  if (!document) return document.error();
  std::vector<StopChange> changes;
  for (const TomlTable& table : document->root().needed("change").tables()) {
    StopChange change;
    change.at_seconds = table.needed("at").number(kTimes).value_or(0);
    read_piston(organ, table["piston"], change);
    read_controls(organ, table["push-in"], 0, change);
    read_controls(organ, table["draw"], 1, change);
    read_swell(organ, table["swell"], change);
    if (table.keys().size() == 1 && table["at"].present())
      table["at"].refuse("draw, push-in, swell or piston beside it");
    changes.push_back(std::move(change));
  }
  if (Status status = document->finish(); !status) return status.error();
  return changes;
}

Result<std::vector<StopChange>> read_stop_changes(const std::string& path,
                                                  const organ::Organ& organ) {
  Result<std::string> text = read_file(path);
  if (!text) return text.error();
  return parse_stop_changes(*text, path, organ);
}

Performance with_changes(const Performance& performance, const organ::Organ& organ,
                         std::vector<StopChange> changes) {
  std::stable_sort(changes.begin(), changes.end(), [](const StopChange& a, const StopChange& b) {
    return a.at_seconds < b.at_seconds;
  });
  PerformanceBuilder builder(organ);
  organ::Registration drawn = organ::empty_registration(organ);
  organ::Registration planned = drawn;  // without the changes
  auto event = performance.events.begin();
  const auto plain_events_until = [&](std::int64_t frame) {
    for (; event != performance.events.end() && event->frame <= frame; ++event) {
      if (const auto move = move_of(*event)) {
        drawn = organ::moved(organ, std::move(drawn), *move);
        planned = organ::moved(organ, std::move(planned), *move);
      }
      builder.add(*event);
    }
  };
  std::vector<std::int64_t> begins = pass_begins(performance);
  const auto events_until = [&](std::int64_t frame) {
    while (!begins.empty() && begins.front() <= frame) {
      const std::int64_t begin = begins.front();
      begins.erase(begins.begin());
      plain_events_until(begin);
      builder.change(begin, drawn, planned);
      drawn = planned;
    }
    plain_events_until(frame);
  };
  for (const StopChange& change : changes) {
    const std::int64_t frame = frames_from_seconds(change.at_seconds);
    if (frame > performance.frames) break;
    events_until(frame);
    const organ::Registration before = drawn;
    for (const ConsoleMove& move : change.moves)
      drawn = organ::moved(organ, std::move(drawn), move);
    builder.change(frame, before, drawn);
  }
  events_until(performance.frames);
  Performance changed = builder.finish(performance.frames);
  changed.marks = performance.marks;
  changed.notices = performance.notices;
  return changed;
}

}  // namespace loftbeat::voice
