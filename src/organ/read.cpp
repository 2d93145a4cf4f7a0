#include "organ/read.h"

#include <algorithm>
#include <array>
#include <functional>
#include <span>
#include <utility>

#include <fmt/format.h>

#include "base/nearest.h"
#include "base/toml_document.h"
#include "organ/names.h"
#include "organ/read_midi.h"
#include "organ/registration.h"

namespace loftbeat::organ {
namespace {

constexpr NumberRange kPower{-20, 20};
constexpr std::size_t kMostDivisions = 20;
constexpr std::size_t kMostParts = 500;
constexpr std::size_t kMostStages = 60;
constexpr std::size_t kMostNameBytes = 60;
constexpr int kLowestKey = 36;
constexpr int kHighestManualKey = 96;
constexpr int kHighestPedalKey = 67;

constexpr auto kStopFamilies = std::span(kFamilyWords).first<kFamilyWords.size() - 1>();
constexpr std::pair<std::string_view, Side> kSides[] = {
    {"left", Side::left}, {"right", Side::right}, {"above", Side::above}};
constexpr std::pair<std::string_view, Piston::By> kBy[] = {{"thumb", Piston::By::thumb},
                                                           {"toe", Piston::By::toe}};
constexpr std::array<std::string_view, 7> kRanks = {"II", "III", "IV", "V", "VI", "VII", "VIII"};

// What a reader of a part has at hand; `organ` is filled division by division, stop by stop.
struct Reading {
  TomlTable root;
  Organ& organ;
};

std::string name_from(const TomlItem& item) {
  std::string name = item.text().value_or("");
  if (item.is_text() && (plain(name).empty() || name.size() > kMostNameBytes)) {
    item.refuse(fmt::format("a name of 1 to {} bytes", kMostNameBytes));
  }
  return name;
}

// A key of the keyboard, written as a note or a number.
std::optional<int> key_at(const TomlItem& item) {
  if (!item.present()) return std::nullopt;
  std::optional<int> key;
  if (item.is_text()) key = key_from_text(*item.text());
  if (item.is_integer()) {
    const auto number = item.integer();
    if (number && *number >= 0 && *number <= 127) key = static_cast<int>(*number);
  }
  if (!key) item.refuse("a key such as \"C2\" or \"F#4\", or a number from 0 to 127");
  return key;
}

int channel_at(const TomlItem& item, int otherwise) {
  return static_cast<int>(item.integer({1, 16}).value_or(otherwise));
}

// The index of what `find` finds; what it does not find is noted at the item, and counts as 0.
std::size_t named_at(const TomlItem& item, const Organ& organ,
                     Result<std::size_t> (*find)(const Organ&, std::string_view)) {
  const auto name = item.text();
  if (!name) return 0;
  const auto found = find(organ, *name);
  if (found) return *found;
  item.refuse("a name of this file", found.error().message + " " + found.error().hint);
  return 0;
}

std::vector<std::size_t> all_named_at(const TomlItem& list, const Organ& organ,
                                      Result<std::size_t> (*find)(const Organ&, std::string_view)) {
  std::vector<std::size_t> indexes;
  for (const TomlItem& item : list.items()) indexes.push_back(named_at(item, organ, find));
  std::sort(indexes.begin(), indexes.end());
  indexes.erase(std::unique(indexes.begin(), indexes.end()), indexes.end());
  return indexes;
}

Location location_from(const TomlTable& at) {
  Location location;
  location.side = at["side"].choice<Side>(kSides).value_or(Side::unknown);
  location.row = static_cast<int>(at["row"].integer({1, 20}).value_or(0));
  location.place = static_cast<int>(at["place"].integer({1, 100}).value_or(0));
  return location;
}

// What couplers and tremulants have like stops: where the hand finds them, and what they send.
template <typename Part>
void read_control(const TomlTable& at, Part& part) {
  part.location = location_from(at);
  part.midi = midi_from(at["midi"]);
}

// Each table of a list, as far as there are not too many.
void each_part(const TomlItem& list, std::size_t most,
               const std::function<void(const TomlTable&)>& read) {
  const std::vector<TomlTable> parts = list.tables();
  if (list.present() && parts.empty()) list.refuse("one or more of them");
  if (parts.size() > most) {
    list.refuse(fmt::format("at most {} of them", most));
    return;
  }
  for (const TomlTable& part : parts) read(part);
}

void refuse_second(const TomlItem& name, bool twice) {
  if (twice) name.refuse("a name that nothing else of its kind has");
}

void read_compass(const TomlItem& item, Division& division) {
  const bool pedal = division.kind == Division::Kind::pedal;
  division.lowest_key = kLowestKey;
  division.highest_key = pedal ? kHighestPedalKey : kHighestManualKey;
  if (!item.present()) return;
  const auto keys = item.items();
  if (item.is_array() && keys.size() != 2) {
    item.refuse("the lowest and the highest key, as [\"C2\", \"C7\"]");
    return;
  }
  if (keys.size() != 2) return;
  division.lowest_key = key_at(keys[0]).value_or(kLowestKey);
  division.highest_key = key_at(keys[1]).value_or(kHighestManualKey);
  if (division.lowest_key > division.highest_key) item.refuse("the lowest key first");
}

void read_box(const TomlTable& at, Division& division) {
  SwellBox box;
  box.closed_db = at["box-closed"].number({-40, 0}).value_or(box.closed_db);
  box.closed_hz = at["box-cutoff"].number({200, 20000}).value_or(box.closed_hz);
  box.control = static_cast<int>(at["box-control"].integer({0, 127}).value_or(box.control));
  if (at["enclosed"].flag().value_or(false)) {
    division.box = box;
    return;
  }
  for (const char* key : {"box-closed", "box-cutoff", "box-control"}) {
    if (at[key].present()) at[key].refuse("enclosed = true beside it");
  }
}

void read_division(const TomlTable& at, Organ& organ) {
  Division division;
  division.name = name_from(at.needed("name"));
  if (at["pedal"].flag().value_or(false)) division.kind = Division::Kind::pedal;
  read_compass(at["compass"], division);
  division.channel = channel_at(at["channel"], 0);
  read_box(at, division);
  refuse_second(at["name"], find_division(organ, division.name).ok());
  for (const Division& other : organ.divisions) {
    if (division.channel != 0 && other.channel == division.channel) {
      at["channel"].refuse("a channel that no other division has");
    }
  }
  organ.divisions.push_back(std::move(division));
}

void read_pitch(const TomlItem& item, Stop& stop) {
  if (item.is_text()) {
    stop.pitch = *item.text();
    if (!stop.pitch.empty() && stop.pitch.back() == '\'') stop.pitch.pop_back();
    stop.feet = feet_from_text(stop.pitch).value_or(0);
  } else if (item.is_number()) {
    stop.feet = item.number({0.125, 128}).value_or(8);
    stop.pitch = toml_number(stop.feet);
  } else if (item.present()) {
    item.refuse("a foot pitch such as \"8\" or \"2 2/3\"");
  }
  const bool numeral = std::find(kRanks.begin(), kRanks.end(), stop.pitch) != kRanks.end();
  const bool mixture = stop.family == Family::mixture;
  if (mixture && !numeral) item.refuse("Roman numerals for a mixture, \"II\" to \"VIII\"");
  if (!mixture && item.is_text() && stop.feet <= 0) {
    item.refuse("a foot pitch such as \"8\", \"2 2/3\" or \"1 1/3\"");
  }
}

void read_stop(const TomlTable& at, Organ& organ) {
  Stop stop;
  stop.name = name_from(at.needed("name"));
  stop.division = named_at(at.needed("division"), organ, find_division);
  stop.family = at.needed("family").choice<Family>(kStopFamilies).value_or(stop.family);
  read_pitch(at.needed("pitch"), stop);
  stop.rank = at["rank"].present() ? name_from(at["rank"]) : usual_rank(stop.family, stop.pitch);
  stop.power_db = at["power"].number(kPower).value_or(0);
  read_control(at, stop);
  if (organ.divisions.empty()) return;  // told elsewhere; nothing has a full name
  const std::string name = plain(full_name(organ, stop));
  refuse_second(at["name"], std::any_of(organ.stops.begin(), organ.stops.end(), [&](const Stop& s) {
                  return plain(full_name(organ, s)) == name;
                }));
  organ.stops.push_back(std::move(stop));
}

void read_coupler(const TomlTable& at, Organ& organ) {
  Coupler coupler;
  coupler.name = name_from(at.needed("name"));
  coupler.played_on = named_at(at.needed("played-on"), organ, find_division);
  coupler.sounds = named_at(at.needed("sounds"), organ, find_division);
  const TomlItem shift = at["semitones"];
  coupler.semitones = static_cast<int>(shift.integer({-12, 12}).value_or(0));
  if (coupler.semitones % 12 != 0) shift.refuse("-12, 0 or 12");
  if (coupler.played_on == coupler.sounds && coupler.semitones == 0) {
    at["sounds"].refuse("another division, or semitones of -12 or 12");
  }
  read_control(at, coupler);
  refuse_second(at["name"], find_coupler(organ, coupler.name).ok());
  organ.couplers.push_back(std::move(coupler));
}

void read_tremulant(const TomlTable& at, Organ& organ) {
  Tremulant tremulant;
  tremulant.name = name_from(at.needed("name"));
  tremulant.division = named_at(at.needed("division"), organ, find_division);
  tremulant.rate_hz = at["rate"].number({2, 10}).value_or(tremulant.rate_hz);
  tremulant.depth_cents = at["depth"].number({0, 50}).value_or(tremulant.depth_cents);
  read_control(at, tremulant);
  refuse_second(at["name"], find_tremulant(organ, tremulant.name).ok());
  organ.tremulants.push_back(std::move(tremulant));
}

void read_piston(const TomlTable& at, Organ& organ) {
  Piston piston;
  piston.name = name_from(at.needed("name"));
  piston.by = at["by"].choice<Piston::By>(kBy).value_or(piston.by);
  if (at["division"].present()) piston.division = named_at(at["division"], organ, find_division);
  piston.stops = all_named_at(at.needed("stops"), organ, find_stop);
  piston.couplers = all_named_at(at["couplers"], organ, find_coupler);
  piston.midi = midi_from(at["midi"]);
  for (const std::size_t stop : piston.stops) {
    const bool known = stop < organ.stops.size();
    if (known && piston.division && organ.stops[stop].division != *piston.division) {
      at["stops"].refuse("stops of the piston's own division");
      break;
    }
  }
  const std::string name = plain(piston.name);
  refuse_second(at["name"], std::any_of(organ.pistons.begin(), organ.pistons.end(),
                                        [&](const Piston& p) { return plain(p.name) == name; }));
  organ.pistons.push_back(std::move(piston));
}

// What a stage adds: a stop, or else a coupler.
void read_stage(const TomlItem& list, const Organ& organ, Crescendo::Stage& stage) {
  for (const TomlItem& item : list.items()) {
    const auto name = item.text();
    if (!name) continue;
    if (const auto coupler = find_coupler(organ, *name); coupler) {
      stage.couplers.push_back(*coupler);
    } else {
      stage.stops.push_back(named_at(item, organ, find_stop));
    }
  }
  if (list.is_array() && stage.stops.empty() && stage.couplers.empty())
    list.refuse("one or more stops or couplers");
  std::sort(stage.stops.begin(), stage.stops.end());
  std::sort(stage.couplers.begin(), stage.couplers.end());
}

void read_crescendo(const TomlTable& root, Organ& organ) {
  const auto at = root["crescendo"].table();
  if (!at) return;
  Crescendo crescendo;
  const TomlItem list = at->needed("stages");
  const std::vector<TomlItem> stages = list.items();
  if (list.is_array() && (stages.empty() || stages.size() > kMostStages)) {
    list.refuse(fmt::format("1 to {} lists of stops and couplers", kMostStages));
    return;
  }
  for (const TomlItem& stage : stages) {
    crescendo.stages.emplace_back();
    read_stage(stage, organ, crescendo.stages.back());
  }
  const TomlItem control = (*at)["control"];
  const TomlItem channel = (*at)["channel"];
  crescendo.control = static_cast<int>(control.integer({0, 127}).value_or(0));
  crescendo.channel = channel_at(channel, 0);
  if (control.present() != channel.present())
    (control.present() ? control : channel).refuse("control and channel together");
  if (!crescendo.stages.empty()) organ.crescendo = std::move(crescendo);
}

void read_split(const TomlTable& root, Organ& organ) {
  const auto at = root["split"].table();
  if (!at) return;
  Split split;
  split.key = key_at(at->needed("key")).value_or(split.key);
  split.channel = channel_at((*at)["channel"], split.channel);
  split.below = named_at(at->needed("below"), organ, find_division);
  split.above = named_at(at->needed("above"), organ, find_division);
  organ.split = split;
}

Result<Organ> organ_from(Result<TomlDocument> document, const std::string& file) {
  if (!document) return document.error();
  const TomlTable root = document->root();
  Organ organ;
  organ.file = file;
  organ.name = root["name"].text().value_or("");
  organ.power_db = root["power"].number(kPower).value_or(0);
  const auto parts = [&](std::string_view key, std::size_t most, auto read) {
    each_part(root[key], most, [&](const TomlTable& at) { read(at, organ); });
  };
  static_cast<void>(root.needed("division"));
  static_cast<void>(root.needed("stop"));
  parts("division", kMostDivisions, read_division);
  parts("stop", kMostParts, read_stop);
  parts("coupler", kMostParts, read_coupler);
  parts("tremulant", kMostParts, read_tremulant);
  parts("piston", kMostParts, read_piston);
  read_crescendo(root, organ);
  read_split(root, organ);
  if (Status status = document->finish(); !status) return status.error();
  return organ;
}

}  // namespace

Result<Organ> read_organ(const std::string& path) {
  return organ_from(TomlDocument::read(path), path);
}

Result<Organ> parse_organ(std::string_view text, const std::string& name) {
  return organ_from(TomlDocument::parse(text, name), name);
}

}  // namespace loftbeat::organ
