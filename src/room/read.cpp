#include "room/read.h"

#include <algorithm>
#include <map>
#include <optional>
#include <utility>

#include "base/nearest.h"
#include "base/toml_document.h"

namespace loftbeat::room {
namespace {

constexpr NumberRange kVolume{50, 500'000};
constexpr NumberRange kAreaRange{0.01, 100'000};
constexpr NumberRange kDistance{0.5, 200};
constexpr IntegerRange kHeads{0, 10'000};
constexpr NumberRange kCoefficient{0.001, 1.5};  // measured ones exceed 1 now and then
constexpr std::size_t kMostParts = 1000;         // of surfaces, and of pews

enum class Absorb { standing, seated, by_area };
constexpr std::pair<std::string_view, Absorb> kAbsorbWords[] = {
    {"standing", Absorb::standing}, {"seated", Absorb::seated}, {"by-area", Absorb::by_area}};
constexpr std::pair<std::string_view, Effort> kEffortWords[] = {{"normal", Effort::normal},
                                                                {"raised", Effort::raised},
                                                                {"loud", Effort::loud},
                                                                {"shout", Effort::shout}};

OctaveTable built_in(std::string_view id) { return find_material(id)->absorption; }

// The built-in surfaces and the file's own, by id.
class Materials {
 public:
  Materials() {
    for (const Material& material : materials()) {
      if (material.kind == AbsorptionKind::per_square_metre) {
        known_[std::string(material.id)] = material.absorption;
      }
    }
  }
  void add(const std::string& id, const OctaveTable& absorption) { known_[id] = absorption; }

  // Notes a name that is not there; an absent item gives nothing.
  [[nodiscard]] std::optional<OctaveTable> named(const TomlItem& item) const {
    const auto id = item.text();
    if (!id) return std::nullopt;
    const auto found = known_.find(*id);
    if (found != known_.end()) return found->second;
    item.refuse("a material of the built-in table or of this file", nearest_hint(*id, ids()));
    return std::nullopt;
  }

 private:
  [[nodiscard]] std::vector<std::string> ids() const {
    std::vector<std::string> all;
    for (const auto& [id, absorption] : known_) all.push_back(id);
    return all;
  }
  std::map<std::string, OctaveTable> known_;
};

OctaveTable absorption_from(const TomlItem& item) {
  OctaveTable table;
  table.fill(kNotGiven);
  const auto items = item.items();
  if (item.is_array() && items.size() != kPublishedOctaves &&
      items.size() + 1 != kPublishedOctaves) {
    item.refuse("six numbers for 125 Hz to 4 kHz, or seven with 8 kHz");
    return table;
  }
  for (std::size_t i = 0; i < items.size() && i < table.size(); ++i) {
    table[i] = items[i].number(kCoefficient).value_or(0);
  }
  return table;
}

void read_materials(const TomlTable& root, Materials& materials) {
  const auto section = root["material"].table();
  if (!section) return;
  for (const std::string& id : section->keys()) {
    const auto material = (*section)[id].table();
    if (!material) continue;
    materials.add(id, absorption_from(material->needed("absorption")));
    static_cast<void>(material->needed("source").text());
  }
}

template <typename Read>
void read_parts(const TomlItem& item, Read read) {
  const auto parts = item.tables();
  if (item.present() && (parts.empty() || parts.size() > kMostParts)) {
    item.refuse("1 to 1000 of them");
    return;
  }
  for (const TomlTable& part : parts) read(part);
}

void read_surfaces(const TomlTable& root, const Materials& materials, Church& church) {
  read_parts(root.needed("surface"), [&](const TomlTable& at) {
    Surface surface;
    surface.name = at["name"].text().value_or("");
    const TomlItem material = at.needed("material");
    surface.material = material.text().value_or("");
    surface.absorption = materials.named(material).value_or(OctaveTable{});
    surface.area_m2 = at.needed("area").number(kAreaRange).value_or(0);
    church.surfaces.push_back(std::move(surface));
  });
}

void read_pews(const TomlTable& root, const Materials& materials, Church& church) {
  read_parts(root.needed("pews"), [&](const TomlTable& at) {
    Pews block;
    block.area_m2 = at.needed("area").number(kAreaRange).value_or(1);
    block.seats = static_cast<int>(at.needed("seats").integer({1, kHeads.most}).value_or(1));
    block.empty = materials.named(at["empty"]).value_or(built_in("pews-empty"));
    block.full = materials.named(at["full"]).value_or(built_in("pews-occupied"));
    church.pews.push_back(block);
  });
}

void read_people(const TomlTable& root, Church& church) {
  church.person = built_in("person-standing");
  const auto people = root["people"].table();
  if (!people) return;
  church.people_expected = static_cast<int>((*people)["expected"].integer(kHeads).value_or(0));
  const Absorb absorb = (*people)["absorb"].choice<Absorb>(kAbsorbWords).value_or(Absorb::standing);
  if (absorb == Absorb::seated) church.person = built_in("person-seated");
  if (absorb == Absorb::by_area) church.people_count = PeopleCount::by_area;
}

void read_singing(const TomlTable& root, Church& church) {
  const auto singing = root["singing"].table();
  if (!singing) return;
  church.effort = (*singing)["effort"].choice<Effort>(kEffortWords).value_or(church.effort);
  church.voice_directivity_db =
      (*singing)["voice-directivity"].number({0, 6}).value_or(church.voice_directivity_db);
}

void read_distances(const TomlTable& root, Church& church) {
  const auto distance = root["distance"].table();
  if (!distance) return;
  const auto read = [&](std::string_view key, double& into) {
    into = (*distance)[key].number(kDistance).value_or(into);
  };
  read("organ-to-people", church.distance.organ_to_people_m);
  read("organ-to-player", church.distance.organ_to_player_m);
  read("people-to-player", church.distance.people_to_player_m);
}

Result<Church> church_from(TomlDocument& document) {
  const TomlTable root = document.root();
  Church church;
  church.name = root["name"].text().value_or("");
  church.volume_m3 = root.needed("volume").number(kVolume).value_or(0);
  church.air.temperature_c = root["temperature"].number({-20, 50}).value_or(20);
  church.air.humidity_percent = root["humidity"].number({5, 100}).value_or(50);
  Materials materials;
  read_materials(root, materials);
  read_surfaces(root, materials, church);
  read_pews(root, materials, church);
  read_people(root, church);
  read_singing(root, church);
  read_distances(root, church);
  if (const auto organ = root["organ"].table()) {
    church.organ_directivity = (*organ)["directivity"].number({0.1, 10}).value_or(1);
  }
  if (Status status = document.finish(); !status) return status.error();
  return church;
}

Result<Church> church_from(Result<TomlDocument> document) {
  if (!document) return document.error();
  return church_from(*document);
}

}  // namespace

Result<Church> read_church(const std::string& path) {
  return church_from(TomlDocument::read(path));
}

Result<Church> parse_church(std::string_view text, const std::string& name) {
  return church_from(TomlDocument::parse(text, name));
}

}  // namespace loftbeat::room
